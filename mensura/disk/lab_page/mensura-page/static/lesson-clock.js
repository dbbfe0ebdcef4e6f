// The clock of a lesson: how much of the time is left, for the screen and for the lesson.
//
// Plain numbers, so that they can be kept and sent: `ran` and `spent` are milliseconds that are over,
// `since` is when the present stretch began, by the wall's clock, or null while it stands still. It
// begins with the first turn, and a page that is loaded anew has lost nothing of it.

const MINUTE = 60000;
const FORGOTTEN = 6 * 60 * MINUTE;
const SLACK = MINUTE / 2;

export function fresh() {
  return { begun: false, ran: 0, since: null, spent: {}, on: null };
}

function settle(clock, now) {
  if (clock.since === null) {
    return;
  }
  const more = Math.max(0, now - clock.since);
  clock.ran += more;
  if (clock.on !== null) {
    clock.spent[clock.on] = (clock.spent[clock.on] || 0) + more;
  }
  clock.since = now;
}

/** Another screen, by its key: the clock begins with the first one that is turned to. */
export function turned(clock, key, now) {
  settle(clock, now);
  if (!clock.begun) {
    clock.begun = true;
    clock.since = now;
  }
  clock.on = key;
}

/** Stands still, or goes on. */
export function pause(clock, now) {
  if (clock.since === null) {
    clock.begun = true;
    clock.since = now;
  } else {
    settle(clock, now);
    clock.since = null;
  }
}

export function setBack(clock) {
  Object.assign(clock, fresh());
}

/** A clock as it was kept; whatever is none is a fresh one. One left running for hours stands. */
export function taken(told, now) {
  const clock = fresh();
  const number = value => (Number.isFinite(value) && value >= 0 ? value : 0);
  if (!told || typeof told !== 'object') {
    return clock;
  }
  clock.begun = told.begun === true;
  clock.ran = number(told.ran);
  clock.on = typeof told.on === 'string' ? told.on : null;
  for (const [key, value] of Object.entries(told.spent || {})) {
    clock.spent[key] = number(value);
  }
  if (clock.begun && Number.isFinite(told.since) && told.since <= now) {
    clock.since = now - told.since > FORGOTTEN ? null : told.since;
  }
  return clock;
}

/** What is left, in milliseconds (below 0: it is over), and what may be left out when it is short.
 *
 *  spare: steps still to come that may go, with their places and minutes; behind: by how much more
 *  is planned than there is time for, 0 if it is not. */
export function left(clock, plan, step, out, now) {
  const gone = clock.since === null ? 0 : Math.max(0, now - clock.since);
  const spent = key => (clock.spent[key] || 0) + (key === clock.on ? gone : 0);
  const { key, minutes } = plan.steps[step];
  const screen = minutes * MINUTE - spent(key);
  const lesson = plan.minutes * MINUTE - clock.ran - gone;
  const ahead = plan.steps
    .map((one, place) => ({ ...one, place }))
    .filter(one => one.place > step);
  const planned = ahead
    .filter(one => !out.has(one.key))
    .reduce((sum, one) => sum + one.minutes * MINUTE, Math.max(0, screen));
  const behind = planned - lesson;
  return {
    screen,
    lesson,
    begun: clock.begun,
    running: clock.since !== null,
    behind: behind > SLACK ? behind : 0,
    spare: ahead.filter(one => one.spare && !out.has(one.key)),
    out: ahead.filter(one => out.has(one.key)),
  };
}

/** Milliseconds as they are read from afar: 12:05; what is over has its own words. */
export function spelt(ms) {
  const seconds = Math.round(Math.abs(ms) / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

/** The same in a sentence. */
export function inWords(ms) {
  return ms < -500 ? `over by ${spelt(ms)}` : `${spelt(ms)} left`;
}
