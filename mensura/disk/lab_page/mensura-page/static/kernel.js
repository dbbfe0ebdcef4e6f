// What is asked of a kernel: who started the page in it, and which views live there.
//
// The mark lies in the kernel itself, so that every tab and every browser finds the same, and a
// kernel that was started anew has none. It is set and read in one breath: of two who ask, one is
// the first, and runs the page.

export const sleep = ms => new Promise(done => setTimeout(done, ms));

// what a promise gives, or an error if it takes too long
export function within(ms, promise, what) {
  let timer = 0;
  const late = new Promise((_, fail) => {
    timer = setTimeout(() => fail(new Error(`${what} takes longer than ${ms / 1000} s`)), ms);
  });
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
}

async function valueOf(kernel, expression) {
  const reply = await kernel.requestExecute(
    {
      code: '',
      silent: true,
      store_history: false,
      allow_stdin: false,
      user_expressions: { value: expression },
    },
    true
  ).done;
  const value = (reply.content.user_expressions || {}).value;
  return value && value.status === 'ok' ? value.data['text/plain'] : null;
}

const SHELL = "vars(__import__('IPython').get_ipython())";

// {by, kept}: who runs or ran the page here, and whether its outputs are in the file; sets the
// mark if there is none
export async function mark(kernel, me) {
  const first = `.setdefault('_mensura_page', {'by': '${me}', 'kept': False})`;
  const text = await valueOf(kernel, `__import__('json').dumps(${SHELL}${first})`);
  return text === null ? { by: me, kept: false } : JSON.parse(text.slice(1, -1));
}

// the same, and sets nothing; null if there is none
export async function peek(kernel) {
  const text = await valueOf(kernel, `__import__('json').dumps(${SHELL}.get('_mensura_page'))`);
  return text === null ? null : JSON.parse(text.slice(1, -1));
}

export async function markKept(kernel, me) {
  await valueOf(kernel, `${SHELL}.setdefault('_mensura_page', {'by': '${me}'}).update(kept=True)`);
}

// ids of the widgets' models that live in the kernel
export async function livingIn(kernel) {
  const reply = await kernel.requestCommInfo({ target_name: 'jupyter.widget' });
  return new Set(Object.keys(reply.content.comms || {}));
}

// the kernel of a session, connected; waits for it
export async function connected(sessionContext, ms) {
  const end = performance.now() + ms;
  while (performance.now() < end) {
    const kernel = sessionContext.session && sessionContext.session.kernel;
    if (kernel && kernel.connectionStatus === 'connected' && !kernel.isDisposed) {
      return kernel;
    }
    await sleep(60);
  }
  throw new Error(`no kernel answered in ${ms / 1000} s`);
}

// a session for the page after the old one was lost: the one that another tab has begun, or a new
// one; the kernel's own session manager forgets what the server has not
export async function session(app, sessionContext) {
  const sessions = app.serviceManager.sessions;
  await sessions.refreshRunning();
  if (sessionContext.session && sessionContext.session.kernel) {
    return;
  }
  const begun = [...sessions.running()].find(one => one.path === sessionContext.path && one.kernel);
  if (begun) {
    await sessionContext.changeKernel({ id: begun.kernel.id });
  } else {
    const name = sessionContext.kernelPreference.name;
    const specs = app.serviceManager.kernelspecs.specs || { kernelspecs: {}, default: 'python3' };
    await sessionContext.changeKernel({ name: name in specs.kernelspecs ? name : specs.default });
  }
}
