// The canvas's own module: it waits for the painter, which comes with the frame round it.
export default {
  render({ model, el }) {
    const gone = new AbortController();
    (function begin() {
      if (gone.signal.aborted) { return; }
      if (document.mensuraPaint && el.isConnected) {
        document.mensuraPaint(el, model, gone.signal);
      } else {
        requestAnimationFrame(begin);
      }
    })();
    return () => gone.abort();
  },
};
