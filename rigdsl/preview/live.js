// Turns to the next page as soon as there is one: the page itself remembers what was shown and lit.
(() => {
  const told = document.createElement("p");
  told.setAttribute("role", "status");
  told.style.cssText = "position:fixed;left:1rem;bottom:1rem;margin:0;padding:.5rem .8rem;background:#000;color:#fff;z-index:9";
  const wait = (ms) => new Promise((done) => setTimeout(done, ms));
  const follow = async () => {
    for (;;) {
      try {
        const answer = await fetch(`/changes?seen=${SEEN}`, { cache: "no-store" });
        if ((await answer.json()) !== SEEN) return location.reload();
        told.remove();
      } catch {
        told.textContent = "the preview has ended: start it again with rigdsl preview";
        document.body.append(told);
        await wait(1000);
      }
    }
  };
  follow();
})();
