// What stands in the place of a module that the page has, or will have in a moment: the frame's, for
// every frame after its kernel's first, and the painter's, for a picture's canvas. WHAT is the name
// under which the page has it.
export default {
  render({ model, el }) {
    const gone = new AbortController();
    (function begin() {
      if (gone.signal.aborted) { return; }
      const there = document.WHAT;
      if (there && el.isConnected) {
        const end = there.render({ model, el });
        gone.signal.addEventListener('abort', () => end());
      } else {
        requestAnimationFrame(begin);
      }
    })();
    return () => gone.abort();
  },
};
