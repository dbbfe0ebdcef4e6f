// The letters of the pictures: the face by whose widths they were laid out, once for the page.
//
// loadLetters(regular, bold) takes the bytes of sans.woff and sans-bold.woff from whoever has them
// and says when the letters are there; lettersReady() says it to whoever only paints, and paints
// again then. What frames share lies on the page: document.mensuraLetters. Until the letters are
// there, or where the page's own rules forbid them, words are painted in a face like them.

/** The page's one promise of letters, and how it is kept. */
function promisedLetters() {
  if (!document.mensuraLetters) {
    const letters = { asked: false };
    letters.ready = new Promise((kept) => { letters.keep = kept; });
    document.mensuraLetters = letters;
  }
  return document.mensuraLetters;
}

/** A promise that the page has the letters: true, or false if it will not have them. */
export function lettersReady() {
  return promisedLetters().ready;
}

/** Gives the page its letters, bytes of a WOFF each; whoever comes second waits for the first. */
export function loadLetters(regular, bold) {
  const letters = promisedLetters();
  if (!letters.asked) {
    letters.asked = true;
    const faces = [['normal', regular], ['bold', bold]].map(
      ([weight, bytes]) => new FontFace('mensura sans', bytes, { weight }).load(),
    );
    Promise.all(faces).then((loaded) => {
      loaded.forEach((face) => document.fonts.add(face));
      letters.keep(true);
    }).catch((error) => {
      console.warn(`mensura: letters of the pictures: ${error}`);
      letters.keep(false);
    });
  }
  return letters.ready;
}
