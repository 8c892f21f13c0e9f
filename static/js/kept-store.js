// What waits on this phone, in the browser's own database: it is there after the browser was closed.
// The lists and the photos' bytes lie apart, so that counting does not read the photos. What was pressed is an item; what
// was only typed is a draft, under the name of its form.
"use strict";
window.cotter = window.cotter || {};

cotter.store = (() => {
  const ITEMS = "items";
  const FILES = "files";
  const DRAFTS = "drafts";
  const VERSION = 2;
  const PATIENCE_MS = 4000; // some browsers never answer when their database is in trouble
  const unkept = new Map(); // where the phone has no room or no database: only as long as this page is open
  let opened;
  let number = 0;

  function open() {
    opened ??= new Promise((resolve, reject) => {
      const request = indexedDB.open("cotter-kept", VERSION);
      request.onupgradeneeded = ({ oldVersion }) => {
        if (oldVersion < 1) {
          request.result.createObjectStore(ITEMS, { keyPath: "id", autoIncrement: true });
          request.result.createObjectStore(FILES);
        }
        request.result.createObjectStore(DRAFTS, { keyPath: "id" });
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => request.result.close();
        resolve(request.result);
      };
      request.onerror = () => reject(request.error);
      setTimeout(() => reject(new Error("The browser's database does not answer.")), PATIENCE_MS);
    });
    return opened;
  }

  // One transaction over all stores; what `ask` answers with is the result. It is over when it is on the disk.
  async function run(mode, ask) {
    const database = await open();
    return new Promise((resolve, reject) => {
      const options = mode === "readwrite" ? { durability: "strict" } : {};
      const transaction = database.transaction([ITEMS, FILES, DRAFTS], mode, options);
      const request = ask(...[ITEMS, FILES, DRAFTS].map((name) => transaction.objectStore(name)));
      transaction.oncomplete = () => resolve(request?.result);
      transaction.onabort = () => reject(transaction.error || new Error("Not kept."));
    });
  }

  function changed() {
    document.dispatchEvent(new CustomEvent("cotter:kept"));
  }

  // The item's number. Where the phone cannot keep it, it lives in this page only, and says so.
  async function add(item, file) {
    try {
      const id = await run("readwrite", (items, files) => {
        const request = items.add(item);
        if (file) request.onsuccess = () => files.put(file, request.result);
        return request;
      });
      changed();
      return id;
    } catch (trouble) {
      const id = `page-${(number += 1)}`;
      const full = trouble?.name === "QuotaExceededError";
      unkept.set(id, { item: { ...item, id, unkept: full ? "full" : "no database" }, file });
      changed();
      return id;
    }
  }

  async function all() {
    let kept = [];
    try {
      kept = await run("readonly", (items) => items.getAll());
    } catch {
      // without a database there is only what this page holds
    }
    return [...kept, ...[...unkept.values()].map((entry) => entry.item)];
  }

  // Is there something that is gone when this page is closed? Asked as it closes, so answered at once.
  const onlyHere = () => unkept.size > 0;

  async function get(id) {
    if (unkept.has(id)) return unkept.get(id).item;
    return run("readonly", (items) => items.get(id)).catch(() => undefined);
  }

  async function file(id) {
    if (unkept.has(id)) return unkept.get(id).file;
    return run("readonly", (items, files) => files.get(id));
  }

  // Give an item other fields; one that is gone by now stays gone.
  async function change(id, fields) {
    if (unkept.has(id)) {
      Object.assign(unkept.get(id).item, fields);
    } else {
      await run("readwrite", (items) => {
        const request = items.get(id);
        request.onsuccess = () => {
          if (request.result) items.put({ ...request.result, ...fields });
        };
      });
    }
    changed();
  }

  async function remove(id) {
    if (!unkept.delete(id)) {
      await run("readwrite", (items, files) => {
        items.delete(id);
        files.delete(id);
      });
    }
    changed();
  }

  // --- drafts

  const filesOf = (id) => IDBKeyRange.bound(`${id} `, `${id} \uffff`);

  // The draft; its photos too, if they changed: [[name, bytes and all], …].
  async function putDraft(draft, photos) {
    await run("readwrite", (items, files, drafts) => {
      if (photos) files.delete(filesOf(draft.id));
      for (const [name, file] of photos || []) files.put(file, `${draft.id} ${name}`);
      return drafts.put(draft);
    });
    changed();
  }

  const drafts = () => run("readonly", (items, files, kept) => kept.getAll()).catch(() => []);
  const draftPhotos = (id) => run("readonly", (items, files) => files.getAll(filesOf(id))).catch(() => []);

  async function dropDraft(id) {
    await run("readwrite", (items, files, kept) => {
      files.delete(filesOf(id));
      kept.delete(id);
    });
    changed();
  }

  // 128 bits that no other phone makes. crypto.randomUUID is not there without HTTPS; this is.
  function newKey() {
    return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  return { add, all, onlyHere, get, file, change, remove, newKey, putDraft, drafts, draftPhotos, dropDraft };
})();
