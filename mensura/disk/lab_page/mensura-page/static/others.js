// Other tabs of the same browser on the same page: who saves or starts anew says so.
export class Others {
  constructor() {
    this.pages = new Set();
    try {
      this.channel = new BroadcastChannel('mensura-page');
      this.channel.onmessage = event => this.hear(event.data);
    } catch {
      this.channel = null; // without it a second tab finds out when it is loaded anew
    }
  }

  hear(said) {
    for (const page of this.pages) {
      if (said.path === page.path && said.base === page.base) {
        page.heard(said);
      }
    }
  }

  say(page, what) {
    const kernel = page.kernel ? page.kernel.id : null;
    if (this.channel) {
      this.channel.postMessage({ what, path: page.path, base: page.base, kernel });
    }
  }
}
