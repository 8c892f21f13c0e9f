// Forms marked data-keep="what it does": their work is kept on this phone first, and then sent. The mark says what it is
// in the list of what waits. One that is sent again and again, such as piece after piece into a crate, says data-keep-on:
// where no answer comes soon it is free for the next. Also the line that tells on every page how much waits. Without
// scripts they are plain forms.
"use strict";

(() => {
  const store = cotter.store;
  const { sending, drafts } = cotter;
  const person = document.querySelector('meta[name="person"]');
  const line = document.querySelector("#waiting");
  const PATIENCE_MS = 4_000; // of who has the next piece in hand
  const walkedOn = new Set();
  const AWAITED_MS = 45_000; // while somebody waits for an answer, nobody else sends the same

  // Of what several people fill in, which says data-keep-changes, only what changed is sent.
  function isNews(form, name, value) {
    const field = form.elements.namedItem(name);
    const served = field?.closest?.("[data-keep-changes]") && drafts.of(form)?.served.get(name);
    return !served || served.join("\n") !== value;
  }

  function itemOf(form, submitter) {
    const fields = [];
    for (const [name, value] of new FormData(form)) {
      if (typeof value === "string" && name !== "csrfmiddlewaretoken" && isNews(form, name, value)) fields.push([name, value]);
    }
    for (const box of form.querySelectorAll("[data-keep-changes] [type=checkbox]")) {
      if (!box.checked && box.defaultChecked) fields.push([box.name, ""]); // its tick was taken away
    }
    if (submitter?.name) fields.push([submitter.name, submitter.value]);
    return {
      person: Number(person.content),
      name: person.dataset.name,
      action: drafts.addressOf(form),
      page: location.pathname + location.search,
      what: form.dataset.keep,
      details: [...drafts.told(form), ...(submitter?.name ? [submitter.textContent.trim()] : [])],
      at: Date.now(),
      state: "waiting",
      fields,
    };
  }

  const photosIn = (form) =>
    [...form.elements].filter((field) => field.type === "file").flatMap((field) => [...field.files].map((file) => [field.name, file]));

  cotter.isKept = (form) => Boolean(form.dataset.keep) && !drafts.hasSecret(form); // PINs and passwords are never kept

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (event.defaultPrevented || !person || !window.indexedDB || !cotter.isKept(form)) return;
    event.preventDefault();
    const item = itemOf(form, event.submitter);
    try {
      const photos = photosIn(form);
      if ("keepOn" in form.dataset) await keepAndGoOn(form, item, photos[0]);
      else if ("keepWhole" in form.dataset) await keepAct(form, item, photos[0]);
      else await (photos.length ? keepPhotos(form, item, photos) : keepAct(form, item));
    } finally {
      delete form.dataset.sent;
      delete event.submitter?.dataset.busy; // it may stand outside of the form
    }
  });

  // --- an act: kept, sent at once, and the page goes on as it would have gone

  async function keepAct(form, item, photo) {
    const [id] = await keep(form, item, photo);
    const said = setTimeout(() => note(form, "Kept on this phone. Sending it …"), 1500);
    const result = await sending.sendAwaited(id, item.person);
    clearTimeout(said);
    if (result.outcome === "arrived") {
      goOn(result.onward);
    } else if (result.outcome === "refused") {
      showRefusal(form, result);
      await store.remove(id); // what was typed or chosen is still in the form, which the person has before them
      drafts.keep(form);
    } else {
      shut(form);
      await store.change(id, { notBefore: 0 });
      const listed = document.querySelector("#put-kept"); // there it stands by its name
      const tell = listed ? () => {} : note(form, afterKeeping((await store.get(id)) || item, result.outcome));
      if (form.dataset.keepNext) offerNext(form);
      onArrival([id], (busy, said, onward) => (busy ? tell(`Arrived: ${item.what}. ${said}`) : goOn(onward)));
      document.addEventListener("cotter:kept", async () => {
        const now = await store.get(id);
        if (now?.state === "refused") tell(`Not done. ${now.told.join(" ")}`);
      });
      sending.sendAll();
    }
  }

  // What was kept is not pressed again: not by a button that stands outside of the form, nor by another form that does the
  // same from the same look at the thing.
  function shut(form) {
    const same = (other) => other.dataset.keep === form.dataset.keep && other.elements.namedItem("seen") && drafts.addressOf(other) === drafts.addressOf(form);
    for (const one of [form, ...[...document.querySelectorAll("form[data-keep]")].filter(same)]) {
      one.hidden = true;
      for (const field of one.elements) if (!one.contains(field)) field.hidden = true;
    }
  }

  // A form that says data-keep-next is there again for the next, empty, by the button that is called so.
  function offerNext(form) {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "button", textContent: form.dataset.keepNext });
    button.addEventListener("click", () => {
      button.remove();
      form.hidden = false;
      for (const field of form.elements) if (!form.contains(field)) field.hidden = false;
      form.reset();
      document.querySelector("#errors")?.remove();
      form.querySelector("input:not([type=hidden])").focus();
    });
    form.previousElementSibling.querySelector(".notice-body").append(button);
  }

  // Once the last of these has arrived; busy says that somebody has begun something else on the page.
  function onArrival(ids, after, each = () => {}) {
    let busy = false;
    const left = new Set(ids);
    addEventListener("input", () => (busy = true), { once: true });
    document.addEventListener("cotter:arrived", ({ detail }) => {
      if (!left.delete(detail.item.id)) return;
      each(left);
      if (!left.size) after(busy, detail.said, detail.onward);
    });
    return left;
  }

  // Keeps it with its one photo, made smaller, if there is one: its number in the store, and what is kept.
  async function keep(form, item, photo) {
    const kept = { ...item, key: store.newKey(), notBefore: Date.now() + AWAITED_MS };
    const small = photo && (await cotter.smaller(photo[1]));
    if (small) kept.file = { field: photo[0], name: small.name, type: small.type };
    const id = await store.add(kept, small);
    await drafts.forget(form); // from here on it waits as pressed
    return [id, kept];
  }

  // --- one of many: with a signal as an act is, without one kept, and the form is free for the next

  async function keepAndGoOn(form, item, photo) {
    const [id, kept] = await keep(form, item, photo);
    const outcome = sending.sendAwaited(id, item.person).then((result) => settle(form, id, result));
    const inTime = new Promise((resolve) => setTimeout(() => resolve(""), PATIENCE_MS));
    if (await Promise.race([outcome, inTime])) return;
    walkedOn.add(id);
    form.reset();
    note(form, `${form.dataset.keep}: ${afterKeeping((await store.get(id)) || kept, "no answer")} Or go on with the next one.`);
  }

  // Says whether the person has been told; one that has walked on finds a refusal in the list of what waits.
  async function settle(form, id, result) {
    if (result.outcome === "refused" && walkedOn.has(id)) {
      await store.change(id, { state: "refused", status: result.status, told: result.told, fresh: result.seen });
    } else if (result.outcome === "refused") {
      showRefusal(form, result);
      if (photosIn(form).length) form.reset(); // what was typed stays, to be mended
      await store.remove(id);
      drafts.keep(form);
    } else if (result.outcome === "arrived") {
      if (!walkedOn.has(id)) goOn(result.onward);
    } else {
      await store.change(id, { notBefore: 0 });
      sending.sendAll();
      return false;
    }
    return true;
  }

  function afterKeeping(item, outcome) {
    if (item.unkept) return "This phone could not keep it. Stay on this page until it is sent.";
    const how = outcome === "signed out" ? "It goes once you have signed in again." : "It is sent by itself when the server answers.";
    return `Kept on this phone. ${how} You may close this page.`;
  }

  let going = false;

  function goOn(onward) {
    if (going) return; // a second time would end what is begun on the page that comes
    going = true;
    if (onward.split("#")[0] !== location.pathname + location.search) return location.assign(onward);
    history.replaceState(null, "", onward); // to a place on this page, which is newer by now
    location.reload();
  }

  function showRefusal(form, result) {
    form.parentElement.querySelector(".kept-note")?.remove();
    document.querySelector("#errors")?.remove();
    document.querySelector("#messages")?.replaceChildren(); // what it said was about the one before
    const seen = form.elements.namedItem("seen");
    if (seen && result.status === 409 && result.form) return showBoth(form, result.form);
    if (seen && result.seen) seen.value = result.seen;
    form.prepend(result.errors ? document.importNode(result.errors, true) : notice("error", result.told));
    const errors = form.firstElementChild;
    errors.id = "errors";
    errors.tabIndex = -1;
    errors.focus();
  }

  // Somebody was quicker: both values field by field, as the server shows them, and the photos that were chosen here.
  function showBoth(form, answered) {
    const chosen = [...form.elements].filter((field) => field.type === "file" && field.files.length);
    form.replaceChildren(...document.importNode(answered, true).childNodes);
    for (const { name, files } of chosen) {
      const field = form.elements.namedItem(name);
      if (field) field.files = files;
    }
    window.htmx?.process(form);
    form.querySelector("#errors").focus();
  }

  // --- a page that shows the same thing changes to what has become true, unless somebody is at work on it

  const thing = (address) => address.split("?")[0].split("/").slice(1, 3).join("/");
  const others = window.BroadcastChannel ? new BroadcastChannel("cotter-arrived") : null;
  const isAtWork = () => [...document.querySelectorAll("form")].some((form) => "sent" in form.dataset || drafts.of(form)?.there);
  let isOld = false;

  function becomesOld(action) {
    if (!person || thing(action) !== thing(location.pathname)) return;
    isOld = true;
    bringUpToDate();
  }

  function bringUpToDate() {
    if (isOld && !going && sending.now.state !== "sending" && !isAtWork() && !document.querySelector(".kept-note")) goOn(location.pathname + location.search);
  }

  document.addEventListener("cotter:arrived", ({ detail }) => {
    others?.postMessage(detail.item.action);
    if (!detail.awaited) becomesOld(detail.item.action);
  });
  document.addEventListener("cotter:sending", bringUpToDate);
  others?.addEventListener("message", ({ data }) => becomesOld(data));

  // --- photos: each an item of its own, so that ten of them with one bar of wifi arrive one by one

  async function keepPhotos(form, item, photos) {
    note(form, `Keeping ${counted(photos.length)} on this phone …`);
    const ids = [];
    for (const [field, file] of photos) {
      const small = await cotter.smaller(file);
      ids.push(await store.add({ ...item, key: store.newKey(), file: { field, name: small.name, type: small.type } }, small));
    }
    const without = (await Promise.all(ids.map(store.get))).filter((one) => one?.unkept);
    await drafts.forget(form);
    form.reset();
    for (const output of form.querySelectorAll("output.chosen")) output.textContent = "";
    watch(form, ids, without);
    sending.sendAll();
  }

  // Tell how far it has come; when all are there, and nobody has begun anything else on the page, show the thing.
  function watch(form, ids, without) {
    const left = onArrival(ids, (busy, said, onward) => {
      if (busy) return;
      sessionStorage.setItem(SAVED, `${counted(ids.length)} saved.`); // each was answered by itself, so no answer says how many
      goOn(onward);
    }, () => show());
    const told = note(form, "");
    const show = async () => {
      const refused = (await Promise.all([...left].map(store.get))).filter((item) => item?.state === "refused");
      const gone = ids.length - left.size;
      const lost = without.filter((item) => left.has(item.id));
      const text = refused.length
        ? refused.flatMap((item) => item.told).join(" ")
        : lost.length
        ? `${noRoom(lost)} Stay on this page until they are sent.`
        : "The rest is kept on this phone and goes by itself, one after the other, as soon as the server answers. You may walk on, or close this page.";
      told(`${gone} of ${counted(ids.length)} ${gone === 1 ? "has" : "have"} arrived. ${left.size ? text : ""}`);
    };
    document.addEventListener("cotter:kept", show);
    show();
  }

  const SAVED = "photos-saved";

  function tellSaved() {
    const saved = sessionStorage.getItem(SAVED);
    sessionStorage.removeItem(SAVED);
    if (!saved) return;
    const told = notice("good", [`Done. ${saved}`]);
    told.classList.remove("kept-note"); // nothing is left to wait for
    document.querySelector("#messages")?.append(told);
  }

  const counted = (number) => (number === 1 ? "1 photo" : `${number} photos`);

  function noRoom(items) {
    const why = items.some((item) => item.unkept === "full") ? "This phone has no room left" : "This browser keeps nothing";
    return `${why}, so ${items.length} ${items.length === 1 ? "is" : "are"} not kept on it.`;
  }

  // --- words on the page

  function notice(kind, lines) {
    const box = document.createElement("div");
    box.className = `notice notice-${kind} kept-note`;
    box.setAttribute("role", kind === "error" ? "alert" : "status");
    const body = document.createElement("div");
    body.className = "notice-body";
    for (const text of lines) body.appendChild(document.createElement("p")).textContent = text;
    box.append(body);
    return box;
  }

  Object.assign(cotter, { goOn, notice });

  // A note before the form, which can be told something else; a screen reader hears each.
  function note(form, text) {
    const there = form.previousElementSibling;
    const box = there?.classList.contains("kept-note") ? there : notice("info", [""]);
    if (box !== there) form.before(box);
    const tell = (words) => (box.querySelector("p").textContent = words);
    tell(text);
    return tell;
  }

  // --- the line on every page: "3 waiting on this phone"

  function reason(items) {
    const own = items.filter((item) => item.state === "waiting");
    const refused = items.length - own.length;
    const names = [...new Set(own.map((item) => item.name))].join(" and ");
    const lost = items.filter((item) => item.unkept);
    if (lost.length) return `${noRoom(lost)} Stay on this page until they are sent.`;
    if (refused) return refused === items.length ? "The server refused this: settle it." : `${refused} refused: settle it.`;
    return {
      sending: "Sending …",
      "no answer": `The server does not answer. ${own.length === 1 ? "It is sent by itself" : "They are sent by themselves"} when it does.`,
      trouble: `${sending.now.name || "The server is in trouble."} They are sent again by themselves.`,
      "signed out": `Signed out: ${names} must sign in to send them.`,
      "another person": `Kept by ${names}, who must sign in to send them.`,
    }[sending.now.state] || "";
  }

  let told = "";

  async function tellHowMany() {
    if (!line) return;
    const items = await store.all();
    const entered = (await store.drafts()).filter((draft) => draft.person === Number(person?.content));
    const ready = entered.filter((draft) => draft.ready);
    const some = items.length + ready.length > 0;
    const toDo = ready.every((draft) => draft.ready === "sign") ? "sign" : "send";
    const count = [items.length && `${items.length} waiting on this phone`, ready.length && `${ready.length} ready to ${toDo}`].filter(Boolean).join(", ");
    const why = items.length ? reason(items) : "";
    const moved = movedTo(items.length + entered.length > 0);
    if (told === count + why + moved) return; // not read out again
    told = count + why + moved;
    line.textContent = "";
    if (some) line.append(link("/waiting/", count), " ");
    if (why) line.append(Object.assign(document.createElement("span"), { textContent: why }));
    if (moved) line.append(link(moved.endsWith("first.") ? "/waiting/" : person.dataset.movedTo + location.pathname + location.search, moved));
  }

  // HTTPS was set up: what waits under this address goes first, and then one goes to the other.
  function movedTo(some) {
    const address = person?.dataset.movedTo;
    if (!address) return "";
    return some ? `Cotter is at ${address} now. Send what waits here first.` : `Cotter is at ${address} now. Nothing waits here: open it there.`;
  }

  const link = (href, textContent) => Object.assign(document.createElement("a"), { href, textContent });

  document.addEventListener("cotter:kept", tellHowMany);
  document.addEventListener("cotter:sending", tellHowMany);
  addEventListener("pageshow", tellHowMany);
  addEventListener("pageshow", tellSaved);
  addEventListener("pageshow", () => (going = false));
  addEventListener("beforeunload", (event) => {
    if (store.onlyHere()) event.preventDefault();
  });
})();
