// Watching over a page: its kernel is asked for every second and a half while the page is seen.
//
// A lost server marks no widget, and a silent network closes no connection: only asking tells. The
// question is a light one, how the kernel fares, and does not count as activity.
const EVERY_MS = 1500;
const PATIENCE_MS = 2800;
const UNCONNECTED_MS = 2500;

// 'here', 'missing' (the server has no such kernel), 'refused' (it is not our server any more),
// 'silent' (no answer)
export async function probe(lab, settings, kernelId) {
  const { URLExt } = lab.coreutils;
  const path = kernelId ? URLExt.join('api/kernels', encodeURIComponent(kernelId)) : 'api/me';
  const url = `${URLExt.join(settings.baseUrl, path)}?no_track_activity=1`;
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE_MS);
  try {
    const answer = await lab.services.ServerConnection.makeRequest(
      url,
      { method: 'GET', signal: stop.signal },
      settings
    );
    if (answer.ok || answer.status === 500) {
      return 'here'; // it answers, if only that it stumbled
    }
    if (answer.status === 404) {
      return 'missing';
    }
    return answer.status < 500 ? 'refused' : 'silent';
  } catch {
    return 'silent';
  } finally {
    clearTimeout(timer);
  }
}

export class Watch {
  // `of` gives the kernel that is watched or null; `found` hears what each question found
  constructor(lab, settings, of, found) {
    Object.assign(this, { lab, settings, of, found, asking: false, since: null });
    this.timer = setInterval(() => document.hidden || this.now(), EVERY_MS);
    this.seen = () => document.hidden || this.now();
    document.addEventListener('visibilitychange', this.seen);
    window.addEventListener('online', this.seen);
    window.addEventListener('offline', this.seen);
  }

  async now() {
    if (this.asking) {
      return;
    }
    this.asking = true;
    const kernel = this.of();
    let answer = await probe(this.lab, this.settings, kernel && kernel.id);
    this.asking = false;
    if (kernel && answer === 'here') {
      // the server answers, but the channel to the kernel may be cut all the same
      const cut = kernel.connectionStatus !== 'connected';
      this.since = cut ? (this.since === null ? performance.now() : this.since) : null;
      if (cut && performance.now() - this.since > UNCONNECTED_MS) {
        answer = 'cut';
      }
    }
    this.found(answer, kernel);
  }

  dispose() {
    clearInterval(this.timer);
    document.removeEventListener('visibilitychange', this.seen);
    window.removeEventListener('online', this.seen);
    window.removeEventListener('offline', this.seen);
  }
}
