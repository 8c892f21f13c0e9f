// The page that lists what waits on this phone: each thing with its photo, what it is, when, and what happened to it.
"use strict";

(() => {
  const store = cotter.store;
  const sending = cotter.sending;
  const list = document.querySelector("#waiting-list");
  const pattern = document.querySelector("#waiting-item");
  const person = Number(document.querySelector('meta[name="person"]')?.content);
  const shown = new Map();
  const clock = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" });

  const part = (row, name) => row.querySelector(`[data-say="${name}"]`);
  const action = (row, name) => row.querySelector(`[data-do="${name}"]`);

  function rowOf(item) {
    const row = pattern.content.firstElementChild.cloneNode(true);
    part(row, "what").textContent = item.what;
    part(row, "details").textContent = item.details.join(" · ");
    part(row, "kept").textContent = `Kept ${clock.format(new Date(item.at))} by ${item.name}`;
    action(row, "see").href = item.action.replace(/^(\/t\/[^/]+|\/p\/\d+|\/where\/\d+).*/, (whole, thing) => thing + (thing.startsWith("/t/") ? "" : "/"));
    action(row, "send").addEventListener("click", () => send(item.id));
    action(row, "drop").addEventListener("click", () => drop(item.id));
    if (item.file) draw(row.querySelector("canvas"), item);
    return row;
  }

  // A canvas, since the pages allow no picture from anywhere but the server.
  async function draw(canvas, item) {
    try {
      const file = await store.file(item.id);
      const bitmap = await createImageBitmap(new Blob([file.bytes], { type: file.type }));
      const side = Math.min(bitmap.width, bitmap.height);
      const left = (bitmap.width - side) / 2;
      const top = (bitmap.height - side) / 2;
      canvas.getContext("2d").drawImage(bitmap, left, top, side, side, 0, 0, canvas.width, canvas.height);
      bitmap.close();
      canvas.setAttribute("aria-label", `The photo ${item.file.name}`);
      canvas.hidden = false;
    } catch {
      // not every browser draws every sort of picture: the words say what it is
    }
  }

  function stateOf(item) {
    if (item.state === "refused") return "Refused. Look at both sides, then send it anyway or drop it.";
    if (sending.now.id === item.id && sending.now.state === "sending") return "Being sent …";
    if (item.person !== person) return `${item.name} must sign in to send it: it goes under no other name.`;
    if (item.unkept) return "Not kept on this phone, which has no room: it is gone when its page is closed.";
    return "Waits for the server.";
  }

  function bringUpToDate(row, item) {
    const refused = item.state === "refused";
    const text = stateOf(item);
    if (part(row, "state").textContent !== text) part(row, "state").textContent = text;
    row.querySelector(".waiting-sides").hidden = !refused;
    action(row, "send").textContent = refused ? "Send it anyway" : "Send it";
    action(row, "send").parentElement.hidden = item.person !== person;
    fill(part(row, "mine"), [item.what, ...item.details]);
    fill(part(row, "theirs"), item.told || []);
  }

  function fill(box, lines) {
    if (box.dataset.lines === lines.join("\n")) return;
    box.dataset.lines = lines.join("\n");
    box.replaceChildren(...lines.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
  }

  async function show() {
    const items = await store.all();
    const there = new Set(items.map((item) => item.id));
    for (const [id, row] of shown) {
      if (!there.has(id)) {
        row.remove();
        shown.delete(id);
      }
    }
    for (const item of items) {
      if (!shown.has(item.id)) {
        shown.set(item.id, rowOf(item));
        list.append(shown.get(item.id));
      }
      bringUpToDate(shown.get(item.id), item);
    }
    const entered = await store.drafts();
    document.querySelector("#waiting-empty").hidden = items.length > 0 || entered.some((draft) => draft.person === person);
    document.querySelector("#waiting-all").hidden = !items.some((item) => item.state === "waiting" && item.person === person);
  }

  // --- what was entered and not sent

  const STATES = { sign: "Ready to sign.", send: "Ready to send." };

  function draftRow(draft) {
    const row = document.querySelector("#draft-item").content.firstElementChild.cloneNode(true);
    part(row, "what").textContent = draft.what;
    part(row, "details").textContent = [...draft.details, ...(draft.photos ? [draft.photos === 1 ? "1 photo" : `${draft.photos} photos`] : [])].join(" · ");
    part(row, "kept").textContent = `Entered ${clock.format(new Date(draft.at))}`;
    part(row, "state").textContent = STATES[draft.ready] || "Not finished.";
    action(row, "open").href = draft.page;
    action(row, "drop").addEventListener("click", async () => {
      if (!window.confirm(`Throw “${draft.what}” away? It was never sent, and will be gone.`)) return;
      await store.dropDraft(draft.id);
      row.remove();
    });
    return row;
  }

  async function showDrafts() {
    const drafts = (await store.drafts()).filter((draft) => draft.person === person);
    drafts.sort((one, other) => Boolean(other.ready) - Boolean(one.ready) || other.at - one.at);
    document.querySelector("#drafts").hidden = !drafts.length;
    document.querySelector("#draft-list").replaceChildren(...drafts.map(draftRow));
  }

  // A refused one is sent knowingly: with the number of the piece's last event as the server told it, or as it is now.
  async function send(id) {
    const item = await store.get(id);
    if (!item) return;
    if (item.state === "refused") {
      const seen = item.fresh || (await seenNow(item));
      const fields = seen ? sending.withSeen(item, seen) : item.fields;
      await store.change(id, { state: "waiting", fields, told: [], fresh: null });
    }
    sending.sendAll();
  }

  async function seenNow(item) {
    if (!item.fields.some(([name]) => name === "seen")) return null;
    try {
      const answer = await fetch(item.action, { cache: "no-store" });
      return cotter.refusal(await answer.text()).seen;
    } catch {
      return null;
    }
  }

  async function drop(id) {
    const item = await store.get(id);
    if (!item) return;
    const whose = item.person === person ? "" : ` It was kept by ${item.name}.`;
    if (window.confirm(`Drop “${item.what}”? It has not arrived, and will be gone.${whose}`)) await store.remove(id);
  }

  document.querySelector("#waiting-all button").addEventListener("click", () => sending.sendAll());
  document.addEventListener("cotter:arrived", ({ detail }) => {
    document.querySelector("#waiting-state").textContent = `Arrived: ${detail.item.what}. ${detail.said}`;
  });
  // All here is of this phone: nothing of it is as last seen once the server answers.
  const old = document.querySelector("#as-last-seen");
  const isThere = async () => (await sending.who()) && old?.remove();
  document.addEventListener("cotter:arrived", () => old?.remove());
  if (old) addEventListener("online", isThere);
  document.addEventListener("cotter:kept", show);
  document.addEventListener("cotter:sending", show);
  document.querySelector("#waiting-where [data-say]").textContent = location.origin;
  show();
  showDrafts();
})();
