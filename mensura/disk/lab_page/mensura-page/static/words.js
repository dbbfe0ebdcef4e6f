// What the bar says: plain and short, what is wrong and what still works.
export const WORDS = {
  starting: 'Starting …',
  alive: 'This page is live.',
  foreign: 'This page came from elsewhere: nothing in it runs until you start it.',
  changed: 'This page was changed outside JupyterLab: nothing in it runs until you start it.',
  kernel: 'The program behind this page has ended: nothing on it answers. What you typed stays.',
  restarted: 'The program behind this page has ended and was started anew: nothing answers until you start the page. What you typed stays.',
  silent: 'No answer from the server. Check the network, or start mensura open again. What you typed stays.',
  refused: 'Another server answers here. Open the address that mensura open shows. What you typed stays.',
  forgetful: 'This browser keeps nothing: what you type into cells is safe once it is saved, a second later.',
  lessonStarts: 'Getting ready …',
  lessonRaised: count =>
    `${count > 1 ? `${count} screens do` : 'One screen does'} not work and ${count > 1 ? 'show' : 'shows'} a still picture.`,
  lessonGone: (lost, why) =>
    lost === 'silent'
      ? 'No answer from the server. If mensura present has ended, start it again.'
      : lost === 'refused'
        ? 'Another server answers here. Open the address that mensura present shows.'
        : lost === 'broken'
          ? why
          : 'The program behind this has ended. It is starting again …',
  noScreen: count => `There is no such screen: type a number from 1 to ${count}.`,
  anew: 'Everything goes back to its start: values, answers, screen and clock.',
  noStorage: 'This browser keeps nothing: what you type now is lost if you leave the page.',
  readOnly: 'This file cannot be written: what you change in it stays in this browser only.',
  damaged: (path, fresh) =>
    `${path} is damaged: no notebook can be read in it. It stays as it is. ` +
    (fresh ? 'A fresh one lies beside it.' : 'Stop mensura open and start it again: it lays a fresh one beside it.'),
  failed: why => `This page could not be started: ${why}`,
  unsaved: why => `Not saved: ${why}. What you typed is kept in this browser.`,
  slow: name =>
    name === '?'
      ? 'Something that was begun earlier has not ended in 20 s.'
      : `The cell “${name}” has not ended in 20 s.`,
  raised: cells => {
    const how = one => (one.what === 'KeyboardInterrupt' ? 'stopped by you' : one.what);
    const told = cells.slice(0, 3).map(one => `[${one.count}] “${one.name}” (${how(one)})`);
    const more = cells.length > 3 ? ` and ${cells.length - 3} more` : '';
    const which = cells.length > 1 ? 'These cells did' : 'This cell did';
    return `${which} not run to the end, the rest did: ${told.join(', ')}${more}.`;
  },
};
