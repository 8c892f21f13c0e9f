// Small helps for every page. Everything works without them.
"use strict";

// A form that has been sent is not sent twice by a second tap. Forms that answer with a file say data-again.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method === "get" || "again" in form.dataset) return;
  if ("sent" in form.dataset) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "";
  if (event.submitter) event.submitter.dataset.busy = "";
});

// Coming back by the back button shows the page as it was left: it may be sent again.
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
  for (const button of document.querySelectorAll("[data-busy]")) delete button.dataset.busy;
});

// data-confirm on a form or on its button asks first. It listens on the way down, before anything else hears of the submission.
document.addEventListener(
  "submit",
  (event) => {
    const question = event.submitter?.dataset.confirm || event.target.dataset.confirm;
    if (question && !window.confirm(question)) {
      event.preventDefault();
      event.stopImmediatePropagation();
    }
  },
  true,
);

// A greyed button says why beneath it; pressing it does nothing.
document.addEventListener("click", (event) => {
  if (event.target.closest('[aria-disabled="true"]')) event.preventDefault();
});

// What htmx sends carries the same proof of origin as a form does.
document.addEventListener("htmx:configRequest", (event) => {
  const token = document.querySelector('meta[name="csrf-token"]');
  if (token && event.detail.verb !== "get") event.detail.headers["X-CSRFToken"] = token.content;
});

// How many photos were chosen, said beside the field: <output class="chosen" for="the field's id">.
document.addEventListener("change", (event) => {
  const input = event.target;
  if (input.type !== "file") return;
  const output = document.querySelector(`output.chosen[for="${CSS.escape(input.id)}"]`);
  if (!output) return;
  const megabytes = [...input.files].reduce((sum, file) => sum + file.size, 0) / 1e6;
  const count = input.files.length;
  output.textContent = count ? `${count} ${count === 1 ? "photo" : "photos"} chosen, ${megabytes.toFixed(1)} MB` : "";
});

// The summary of mistakes, or what is to be read over, takes the focus, so that it is read first.
document.querySelector("#errors, #read-over")?.focus();

// A list that was asked for on paper.
if (new URLSearchParams(location.search).get("as") === "print") window.print();

// Whoever came from a list goes on with it: what was done on the page of a piece says the way back. That ends with another
// list, with a piece that is not in this one, with the first page, and after an hour.
(() => {
  const KEY = "goes-on", HOUR = 3600e3;
  const list = document.querySelector("[data-goes-on]");
  const rows = [...document.querySelectorAll("main .rows a, main tbody a")].map((link) => link.pathname);
  if (list) return addEventListener("pagehide", () => sessionStorage.setItem(KEY, JSON.stringify({ href: location.href, words: list.dataset.goesOn, at: Date.now(), rows })));
  const from = JSON.parse(sessionStorage.getItem(KEY) || "null");
  if (!from?.rows) return;
  const here = location.pathname, isOfIt = from.rows.some((row) => here === row || here.startsWith(`${row}/`));
  const undo = document.querySelector("#messages form .button");
  const left = here === "/" || (!undo && !isOfIt && (here.startsWith("/t/") || new Set(rows).size > 1));
  if (left || Date.now() - from.at > HOUR) return sessionStorage.removeItem(KEY);
  if (undo) undo.after(Object.assign(document.createElement("a"), { className: "button", href: from.href, textContent: `Go on with ${from.words}` }));
})();
