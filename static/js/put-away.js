// Putting away without a signal: what is kept on this phone for this crate stands in the list until it has arrived.
"use strict";

(() => {
  const list = document.querySelector("#put-kept");
  const here = new Set([...document.querySelectorAll("main form[data-keep]")].map((form) => new URL(form.action).pathname));
  const count = document.querySelector("#so-far, .count");
  const served = count?.textContent;
  let shown = 0;
  let chosen = ""; // the crate that was chosen without a network

  function row(item) {
    const line = document.createElement("li");
    line.className = "row put-waits";
    const words = document.createElement("span");
    words.className = "row-main";
    const title = document.createElement("span");
    title.className = "row-title";
    const code = item.fields.find(([name]) => name === "code")?.[1];
    title.textContent = item.file ? "Photo of a tag" : code || item.what;
    const state = document.createElement("span");
    state.className = "row-sub";
    state.textContent = item.state === "refused" ? (item.told || []).join(" ") : "Kept on this phone. Goes by itself.";
    words.append(title, state);
    line.append(words);
    return line;
  }

  async function show() {
    const items = (await cotter.store.all()).filter((item) => here.has(item.action) && (!chosen || into(item) === chosen)).reverse();
    list.replaceChildren(...items.map(row));
    list.hidden = !items.length;
    const left = items.filter((item) => item.state === "waiting").length;
    if (count) count.textContent = left ? `${served}, ${left} more kept on this phone` : served;
    if (shown && !left && !chosen && idle()) cotter.goOn(list.dataset.page); // all of it is there: the list says so
    shown = left;
  }

  const into = (item) => item.fields.find(([name]) => name === "into")?.[1];

  const idle = () => ![...document.querySelectorAll("form[data-keep-on]")].some((one) => "sent" in one.dataset || one.elements.code?.value);

  // Without a network a crate is chosen from those this page knows, and named with each piece that is put there.
  const without = document.querySelector("#without-network");
  const known = [...document.querySelectorAll("#id_into_offered option")].map((option) => option.value);

  document.addEventListener("cotter:no-answer", (event) => {
    const typed = event.target.elements.into?.value.trim().toLowerCase();
    const crate = typed && (only(known.filter((path) => path.toLowerCase() === typed)) || only(known.filter((path) => path.toLowerCase().split(" / ").pop() === typed)) || only(known.filter((path) => path.toLowerCase().includes(typed))));
    if (!without || !crate) return;
    event.preventDefault();
    chosen = crate;
    document.querySelector("h1").textContent = `Into ${crate}`;
    for (const choosing of document.querySelectorAll("[data-choosing]")) choosing.hidden = true;
    for (const form of without.querySelectorAll("form")) {
      form.dataset.keep = `Put into ${crate}`;
      form.elements.into.value = crate;
    }
    without.hidden = false;
    without.querySelector("input:not([type=hidden])").focus();
    if (list) show();
  });

  const only = (found) => (found.length === 1 ? found[0] : undefined);

  if (!list || !here.size || !window.indexedDB) return;
  document.addEventListener("cotter:kept", show);
  show();
})();
