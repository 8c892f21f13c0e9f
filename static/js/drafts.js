// What is typed, marked or photographed in any form is kept on this phone within a second, and put back when the form is
// opened again: after a reload, a closed tab, a flat battery, signing in again. It is never sent by itself. PINs and
// passwords are never kept. A form says data-no-draft where there is nothing to keep.
"use strict";

cotter.drafts = (() => {
  const store = cotter.store;
  const sending = cotter.sending;
  const meta = document.querySelector('meta[name="person"]');
  const person = Number(meta?.content);
  const SOON_MS = 250;
  const LARGEST = 25_000_000; // bytes: a photo as a camera makes it, a scan of a paper
  const NEVER = ["password", "submit", "button", "image", "reset", "file"];
  const SECRET = ".input-secret, [type=password]";
  const known = new Map(); // form -> what is known of its draft
  let opened; // before that nothing is written, since it would be written over what is there
  const isOpen = new Promise((resolve) => (opened = resolve));

  const isAnswer = Boolean(meta && "answer" in meta.dataset); // to a form that was sent
  const arrivedBy = () => performance.getEntriesByType("navigation")[0]?.type; // reloaded or gone back to, an answer is old

  const isPost = (form) => form.getAttribute("method")?.toLowerCase() === "post"; // a field may be named "method"
  const hasSecret = (form) => Boolean(form.querySelector(SECRET));

  // Hidden fields are the server's, unless the form says that what it holds is the person's, such as marks on a photo.
  function isKept(field) {
    if (!field.name || field.matches(SECRET) || NEVER.includes(field.type)) return false;
    return field.type !== "hidden" || Boolean(field.closest("[data-draft-hidden]")) || field.name.endsWith("-TOTAL_FORMS");
  }

  const photoFields = (form) => [...form.elements].filter((one) => one.type === "file" && !one.closest("[data-shoot]"));
  const optionOf = (field) => (field.multiple ? [] : [...field.options].slice(0, 1));

  function valuesOf(field, asServed) {
    if (field.type === "checkbox" || field.type === "radio") return (asServed ? field.defaultChecked : field.checked) ? [field.value] : [];
    if (!field.options) return [asServed ? field.defaultValue : field.value];
    const chosen = [...field.options].filter((one) => (asServed ? one.defaultSelected : one.selected));
    return (chosen.length || !asServed ? chosen : optionOf(field)).map((one) => one.value);
  }

  // Each name with its values, as they are now or as the page was served.
  function read(form, asServed = false) {
    const found = new Map();
    for (const field of form.elements) {
      if (isKept(field)) found.set(field.name, [...(found.get(field.name) || []), ...valuesOf(field, asServed)]);
    }
    return found;
  }

  const same = (one, other) => one !== undefined && other !== undefined && one.join("\n") === other.join("\n");

  function addressOf(form) {
    const address = new URL(form.getAttribute("action") || location.href, location.href);
    return address.pathname + address.search;
  }

  // --- keeping

  function begin(form, number) {
    const mine = { id: `${person} ${addressOf(form)} ${number}`, key: store.newKey(), served: read(form, true), left: [] };
    known.set(form, mine);
    return mine;
  }

  const whatLabel = (field) => field.labels?.[0]?.firstChild?.textContent.trim() || "";

  // What a person would read off the form: "Where to: Crate 14".
  function told(form, isAsked = () => true) {
    const lines = [];
    for (const field of form.elements) {
      if (!isKept(field) || field.type === "hidden" || !field.value || !isAsked(field.name)) continue;
      const box = field.type === "radio" || field.type === "checkbox";
      if (box && !field.checked) continue;
      const value = field.type === "select-one" ? field.selectedOptions[0].textContent : field.value;
      const label = box ? "" : whatLabel(field);
      lines.push(label ? `${label}: ${value}` : whatLabel(field) || value);
    }
    return lines;
  }

  // What differs from the page as it was served; all of it where the server answered with this page.
  function changes(form, mine) {
    const fields = new Map(mine.left);
    for (const [name, values] of read(form)) if (!same(values, mine.served.get(name))) fields.set(name, values);
    return [...fields];
  }

  // What the page showed besides, where nothing says how new it is: another day it may propose something else.
  function proposed(form) {
    if (form.elements.namedItem("seen")) return [];
    const isOthers = (name) => form.elements.namedItem(name)?.closest?.("[data-keep-changes]");
    return [...read(form)].filter(([name, values]) => values.join("") && !isOthers(name));
  }

  async function photosOf(form) {
    const photos = [];
    for (const field of photoFields(form)) {
      for (const [number, file] of [...field.files].entries()) {
        if (file.size > LARGEST) continue;
        const asItCame = async () => ({ bytes: new Uint8Array(await file.arrayBuffer()), name: file.name, type: file.type });
        const small = form.dataset.keep ? await cotter.smaller(file) : await asItCame();
        photos.push([`${field.name} ${number}`, { field: field.name, name: small.name, type: small.type, bytes: small.bytes }]);
      }
    }
    return photos;
  }

  // Now, and once more if something changed meanwhile.
  function keep(form) {
    const mine = known.get(form);
    if (!mine) return Promise.resolve();
    clearTimeout(mine.timer);
    mine.timer = 0;
    mine.writing = (mine.writing || isOpen).then(() => write(form, mine)).catch(() => tellUnkept(form, mine));
    return mine.writing;
  }

  async function write(form, mine) {
    const photos = mine.photosChanged ? await photosOf(form) : null;
    mine.photosChanged = false;
    if (photos) mine.photos = photos.length;
    const fields = changes(form, mine);
    if (!fields.length && !mine.photos && !mine.pressed && !mine.ready) {
      if (mine.there) await store.dropDraft(mine.id);
      mine.there = false;
      return;
    }
    const asked = new Set(fields.map(([name]) => name));
    mine.there = true;
    await store.putDraft(
      {
        id: mine.id, person, name: meta.dataset.name, key: mine.key, page: mine.page || location.pathname + location.search,
        what: form.dataset.keep || document.title.replace(/ · Cotter$/, ""), details: told(form, (name) => asked.has(name)).slice(0, 12),
        fields: [...new Map([...proposed(form), ...fields])], photos: mine.photos || 0, seen: form.elements.namedItem("seen")?.value || "", at: Date.now(),
        pressed: mine.pressed || 0, ready: mine.ready || "",
      },
      photos,
    );
  }

  function tellUnkept(form, mine) {
    if (mine.told) return;
    mine.told = true;
    note(form, "This browser keeps nothing that is typed here. Send it before you leave the page.");
  }

  function soon(form) {
    const mine = known.get(form);
    if (!mine) return;
    mine.there = true; // from the first touch on: the page does not change by itself under somebody's hands
    mine.timer ||= setTimeout(() => keep(form), SOON_MS);
  }

  function touched(event) {
    const form = event.target.form || event.target.closest?.("form");
    const mine = known.get(form);
    if (!mine) return;
    if (event.target.type === "file" && !event.target.closest("[data-shoot]")) mine.photosChanged = true;
    mine.ready = "";
    soon(form);
  }

  function flush() {
    for (const [form, mine] of known) if (mine.timer) keep(form);
  }

  // What was kept is somewhere else now: in the list of what waits, or on the server.
  async function forget(form) {
    const mine = known.get(form);
    if (!mine) return;
    clearTimeout(mine.timer);
    await mine.writing;
    Object.assign(mine, { key: store.newKey(), pressed: 0, ready: "", there: false, photos: 0, timer: 0, left: [] });
    await store.dropDraft(mine.id).catch(() => {});
  }

  // --- putting back

  // Gives what has no field here.
  function fill(form, fields) {
    const kept = new Map(fields);
    form.dispatchEvent(new CustomEvent("cotter:put-back", { bubbles: true, detail: kept }));
    const at = new Map();
    const found = new Set();
    for (const field of form.elements) {
      const values = isKept(field) ? kept.get(field.name) : undefined;
      if (!values) continue;
      found.add(field.name);
      if (field.type === "checkbox" || field.type === "radio") field.checked = values.includes(field.value);
      else if (field.options) for (const option of field.options) option.selected = values.includes(option.value);
      else {
        const place = at.get(field.name) || 0;
        field.value = values[place] ?? "";
        at.set(field.name, place + 1);
      }
      for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    }
    form.dispatchEvent(new CustomEvent("cotter:filled", { bubbles: true }));
    return fields.filter(([name]) => !found.has(name));
  }

  async function fillPhotos(form, draft) {
    const photos = draft.photos ? await store.draftPhotos(draft.id) : [];
    for (const field of photoFields(form)) {
      const files = new DataTransfer();
      for (const one of photos) if (one.field === field.name) files.items.add(new File([one.bytes], one.name, { type: one.type }));
      if (!files.files.length) continue;
      field.files = files.files;
      field.dispatchEvent(new Event("change", { bubbles: true }));
    }
  }

  const clock = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });

  async function putBack(form, mine, draft) {
    const seen = form.elements.namedItem("seen");
    if (draft.pressed && isAnswer && arrivedBy() === "navigate") {
      Object.assign(mine, { served: new Map(), left: [], pressed: 0 }); // the server answered with this page: it is newer than the draft
      await fillPhotos(form, draft);
      return keep(form);
    }
    const since = draft.seen && seen && seen.value !== draft.seen ? await sending.who({ at: addressOf(form), seen: draft.seen }) : null;
    if (since?.over) return forget(form);
    if (since?.others) seen.value = draft.seen; // somebody else was at it: the server will say so
    mine.left = [];
    const typed = new Map(changes(form, mine)); // meanwhile, or put back by the browser itself
    const news = draft.fields.filter(([name, values]) => !typed.has(name) && !same(values, mine.served.get(name)));
    if (isAnswer) mine.served = new Map(); // whoever opens the page anew gets none of what this answer shows
    if (!news.length && !typed.size && !draft.photos && !draft.ready) return forget(form); // the server has all of it
    mine.left = fill(form, news);
    await fillPhotos(form, draft);
    if (!news.length && !draft.photos) return;
    const when = `What you entered here on ${clock.format(new Date(draft.at))} is put back. It is not sent yet.`;
    const lost = mine.left.filter(([, values]) => values.join("")).map(([name, values]) => `No longer on this page: ${name} ${values.join(", ")}.`);
    again(note(form, [when, ...lost].join(" ")), form);
  }

  function again(box, form) {
    const button = document.createElement("button");
    button.className = "button";
    button.type = "button";
    button.textContent = "Start afresh";
    button.addEventListener("click", async () => {
      const from = known.get(form).page;
      await forget(form);
      if (isAnswer && from) location.replace(from);
      else location.reload();
    });
    box.querySelector(".notice-body").append(button);
  }

  function note(form, text) {
    const there = form.previousElementSibling;
    if (there?.classList.contains("kept-note")) there.remove();
    const box = cotter.notice("info", [text]);
    form.before(box);
    return box;
  }

  // What arrived though its answer was lost, and what was signed elsewhere, is done and not put back.
  async function settle() {
    const mine = (await store.drafts()).filter((draft) => draft.person === person);
    const pressed = mine.filter((draft) => draft.pressed);
    const said = pressed.length ? await sending.who(pressed.map((draft) => ["key", draft.key])) : null;
    for (const draft of pressed) if (said?.arrived?.[draft.key]) await isDone(draft, said.arrived[draft.key]);
    for (const draft of mine.filter((one) => one.ready && one.seen)) {
      const since = await sending.who({ at: draft.id.split(" ")[1], seen: draft.seen });
      if (since?.over) await store.dropDraft(draft.id);
    }
  }

  async function isDone(draft, onward) {
    await store.dropDraft(draft.id);
    const [form] = [...known].find(([, mine]) => mine.key === draft.key && mine.there) || [];
    if (form) await forget(form);
    const here = location.pathname + location.search;
    const isFromHere = form || draft.id.split(" ")[1] === here; // what is done may no longer be offered
    if (isFromHere && onward.split("#")[0] !== here) see(note(form || document.querySelector("#messages"), "What you sent from here had arrived."), onward);
  }

  function see(box, onward) {
    box.querySelector(".notice-body").append(Object.assign(document.createElement("a"), { className: "button", textContent: "See it", href: onward }));
  }

  async function open() {
    const numbers = new Map();
    for (const form of document.querySelectorAll("form")) {
      if (!isFor(form)) continue;
      const number = numbers.get(addressOf(form)) || 0;
      numbers.set(addressOf(form), number + 1);
      begin(form, number);
    }
    const drafts = new Map((await store.drafts()).map((draft) => [draft.id, draft]));
    const there = [...known].map(([form, mine]) => [form, mine, drafts.get(mine.id)]).filter(([, , draft]) => draft);
    for (const [, mine, draft] of there) {
      const { key, page, ready, pressed, photos, fields } = draft;
      Object.assign(mine, { key, page, ready, pressed, photos, left: fields, there: true });
    }
    opened();
    await settle();
    for (const [form, mine, draft] of there) if (mine.there) await putBack(form, mine, draft);
    document.documentElement.dataset.drafts = "ready";
  }

  const isFor = (form) =>
    isPost(form) && !("again" in form.dataset) && !("noDraft" in form.dataset) &&
    ("sign" in form.dataset || [...form.elements].some(isKept) || photoFields(form).length > 0);

  if (!meta || !window.indexedDB) return { hasSecret, keep: async () => {}, forget: async () => {}, of: () => undefined, told, addressOf, isPost };
  document.addEventListener("input", touched);
  document.addEventListener("change", touched);
  document.addEventListener("visibilitychange", flush);
  addEventListener("pagehide", flush);
  addEventListener("pageshow", (event) => event.persisted && settle());
  document.addEventListener("DOMContentLoaded", open); // once every script is there that hears of what is put back
  return { hasSecret, keep, forget, of: (form) => known.get(form), told, addressOf, isPost, see };
})();
