// The page that is shown without a network, at the address that was wanted: as soon as the server answers, what waits is
// sent and that page is shown. A form that was being sent is opened again, with what was entered put back.
"use strict";

(() => {
  const AGAIN_MS = 4_000;
  const told = document.querySelector("#no-network");
  let timer;

  async function tryAgain() {
    clearTimeout(timer);
    const me = await cotter.sending.who();
    if (!me) return (timer = setTimeout(tryAgain, AGAIN_MS));
    told.textContent = "The server answers again …";
    await cotter.sending.sendAll();
    const here = location.pathname + location.search;
    const draft = (await cotter.store.drafts()).find((one) => one.pressed && one.person === me.person && one.id.split(" ")[1] === here);
    location.replace(draft ? draft.page : here);
  }

  document.querySelector("#try-again").addEventListener("click", tryAgain);
  addEventListener("online", tryAgain);
  timer = setTimeout(tryAgain, AGAIN_MS);
})();
