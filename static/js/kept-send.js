// Sends what waits on this phone, once each: every item has a key, and the server answers a key it knows as it did before.
// An item goes under the name of the person who kept it, or not at all.
"use strict";
window.cotter = window.cotter || {};

cotter.sending = (() => {
  const store = cotter.store;
  const ASKING_MS = 8_000;
  const ACT_MS = 25_000;
  const PHOTO_MS = 300_000; // one bar of wifi
  const SOONEST_MS = 3_000;
  const LATEST_MS = 60_000;
  let wait = SOONEST_MS;
  let timer;
  let running = false;
  let onceMore = false;
  const now = { state: "", name: "", id: null }; // what the line on the page tells

  function tell(state, more = {}) {
    Object.assign(now, { state, name: "", id: null }, more);
    document.dispatchEvent(new CustomEvent("cotter:sending"));
  }

  const inTime = (ms) => (AbortSignal.timeout ? AbortSignal.timeout(ms) : undefined);

  // Who is signed in, and a fresh proof of origin; nothing if the server does not answer (or something else does).
  // `asked` is what else is to be known: whether these keys arrived, and what became of a piece since.
  async function who(asked = "") {
    try {
      const answer = await fetch(`/waiting/who?${new URLSearchParams(asked)}`, { cache: "no-store", signal: inTime(ASKING_MS) });
      const said = answer.ok ? await answer.json() : null;
      return said && "token" in said ? said : null;
    } catch {
      return null;
    }
  }

  async function bodyOf(item, token) {
    const body = new FormData();
    for (const [name, value] of item.fields) body.append(name, value);
    if (item.file) {
      const file = await store.file(item.id);
      body.append(item.file.field, new Blob([file.bytes], { type: file.type }), file.name);
    }
    body.append("csrfmiddlewaretoken", token);
    return body;
  }

  // What became of one item: {outcome: "arrived" | "refused" | "no answer" | "trouble" | "signed out", …}
  async function post(item, me, awaited) {
    const headers = {
      "X-Cotter-Key": item.key,
      "X-Cotter-Person": String(item.person),
      "X-Cotter-Kept-At": new Date(item.at).toISOString(),
    };
    if (awaited) headers["X-Cotter-Now"] = "1";
    try {
      const body = await bodyOf(item, me.token);
      const signal = inTime(item.file ? PHOTO_MS : ACT_MS);
      const answer = await fetch(item.action, { method: "POST", body, headers, signal });
      const isJson = (answer.headers.get("Content-Type") || "").startsWith("application/json");
      if (answer.ok) {
        const said = isJson ? await answer.json() : null; // a page in its place is some other network's, asking to be paid
        return said && "onward" in said ? { outcome: "arrived", ...said } : { outcome: "no answer" };
      }
      if (answer.status === 401) return { outcome: "signed out" };
      const told = isJson ? { told: [(await answer.json()).said] } : cotter.refusal(await answer.text());
      return { outcome: answer.status >= 500 ? "trouble" : "refused", status: answer.status, ...told };
    } catch {
      return { outcome: "no answer" };
    }
  }

  const pieceOf = (address) => new URL(address, location.href).pathname.match(/^\/t\/([^/]+)\//i)?.[1].toUpperCase();
  const seenOf = (item) => item.fields.find(([name]) => name === "seen")?.[1];

  // One's own act makes nothing stale that one kept, or has open, from the same look at the piece.
  async function bringUpToDate(item, seen) {
    const before = seenOf(item);
    if (!before || !seen) return;
    const same = (address) => pieceOf(address) && pieceOf(address) === pieceOf(item.action);
    for (const other of await store.all()) {
      if (other.id !== item.id && other.person === item.person && same(other.action) && seenOf(other) === before) {
        await store.change(other.id, { fields: withSeen(other, seen) });
      }
    }
    for (const input of document.querySelectorAll('form[method="post"] input[name="seen"]')) {
      if (input.value === before && same(input.form.action)) input.value = seen;
    }
  }

  const withSeen = (item, seen) =>
    item.fields.map(([name, value]) => (name === "seen" ? [name, String(seen)] : [name, value]));

  // Somebody was quicker: the page in answer has what they alone changed, and otherwise what was entered here.
  function afterTheirs(item, { status, form }) {
    if (status !== 409 || !form?.elements.namedItem("seen")) return null;
    const isButton = (name) => ![...form.elements].some((field) => field.name === name && field.type !== "submit");
    const now = [...new FormData(form)].filter(([name, value]) => typeof value === "string" && name !== "csrfmiddlewaretoken");
    return [...now, ...item.fields.filter(([name]) => isButton(name))];
  }

  async function sendOne(item, me, awaited = false) {
    tell("sending", { id: item.id });
    const result = await post(item, me, awaited);
    if (result.outcome === "arrived") {
      await bringUpToDate(item, result.seen);
      await store.remove(item.id);
      document.dispatchEvent(new CustomEvent("cotter:arrived", { detail: { item, awaited, ...result } }));
    } else if (result.outcome === "refused" && !awaited) {
      const fields = afterTheirs(item, result) || item.fields;
      await store.change(item.id, { state: "refused", status: result.status, told: result.told, fresh: result.seen, fields });
    }
    return result;
  }

  const due = (item) => item.state === "waiting" && !(item.notBefore > Date.now());
  const waitingOf = (items, person) => items.filter((item) => due(item) && item.person === person);

  // Acts go before photos: they are small, and a photo may hang on one of them.
  const inTurn = (items) => [...items.filter((item) => !item.file), ...items.filter((item) => item.file)];

  async function sendAll() {
    clearTimeout(timer);
    if (running) {
      onceMore = true;
      return;
    }
    running = true;
    try {
      const left = await round();
      wait = left === "no answer" || left === "trouble" ? Math.min(wait * 2, LATEST_MS) : SOONEST_MS;
      if (left) timer = setTimeout(sendAll, wait);
    } finally {
      running = false;
      if (onceMore) {
        onceMore = false;
        sendAll();
      }
    }
  }

  // One round through everything that waits; says why something is left, if it is.
  async function round() {
    const kept = (await store.all()).filter((item) => item.state === "waiting");
    const waiting = kept.filter(due);
    if (!waiting.length) return tell("") || (kept.length ? "later" : "");
    const me = await who();
    if (!me) return tell("no answer") || "no answer";
    const mine = inTurn(waitingOf(waiting, me.person));
    for (const { id } of mine) {
      const item = await store.get(id); // another tab may have sent it meanwhile
      if (!item || !due(item)) continue;
      const result = await sendOne(item, me);
      if (["no answer", "trouble", "signed out"].includes(result.outcome)) {
        tell(result.outcome, { name: (result.told || []).join(" ") });
        return result.outcome;
      }
    }
    if (mine.length < waiting.length) {
      tell(me.person ? "another person" : "signed out", { name: me.name });
      return "signed out";
    }
    return tell("") || (waiting.length < kept.length ? "later" : "");
  }

  // Somebody waits for this one: send it now, after whatever of theirs was kept before it.
  async function sendAwaited(id, person) {
    const me = await who();
    if (!me) return { outcome: "no answer" };
    if (me.person !== person) return { outcome: "signed out" };
    for (const before of waitingOf(await store.all(), person)) {
      if (before.id === id || before.file) continue;
      if ((await sendOne(before, me)).outcome === "no answer") return { outcome: "no answer" };
    }
    const item = await store.get(id);
    return item ? sendOne(item, me, true) : { outcome: "no answer" };
  }

  function begin() {
    wait = SOONEST_MS;
    if (document.visibilityState === "visible") sendAll(); // each scan opens a tab of its own: only the one in sight sends
  }

  addEventListener("online", begin);
  addEventListener("pageshow", begin);
  document.addEventListener("visibilitychange", begin);

  return { now, who, sendAll, sendAwaited, withSeen, begin };
})();

// What a page that refuses says: the sentences, and the number that the form needs to be sent again knowingly.
cotter.refusal = (html) => {
  const page = new DOMParser().parseFromString(html, "text/html");
  const words = (node) => node.textContent.replace(/\s+/g, " ").trim();
  const lines = [...page.querySelectorAll("#errors li, #errors .notice-body > p")].map(words);
  const plain = [...page.querySelectorAll("main h1, main > p, main .page-head + p")].map(words);
  const sides = [...page.querySelectorAll(".theirs p")].map((said) => `${words(said.closest(".field").querySelector("legend, label"))}: ${words(said)}`);
  return {
    told: [...(lines.length ? lines : plain), ...sides],
    seen: page.querySelector('input[name="seen"]')?.value,
    errors: page.querySelector("#errors"),
    form: page.querySelector("form #errors")?.closest("form"),
  };
};
