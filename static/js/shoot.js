// A photo of a tag is sent as soon as it is taken, made smaller first. Without this it is a file field and a button.
"use strict";

(() => {
  // One large press in place of the field's own small button; the field lies over it, for hand, keyboard and reader alike.
  function dress(box) {
    const input = box.querySelector('input[type="file"]');
    const label = box.querySelector("label");
    const button = box.querySelector('button[type="submit"]');
    const words = label.querySelector("span");
    label.className = "button button-first shoot-press";
    label.parentElement.classList.add("shoot-over");
    input.required = false; // the press itself asks for the photo
    button.hidden = true;
    input.addEventListener("change", () => input.files.length && send(input, label, words));
  }

  async function send(input, label, words) {
    const said = words.textContent;
    label.dataset.busy = "";
    words.textContent = "Reading it …";
    try {
      if (!input.form.dataset.keep) await shrink(input); // a form that is kept makes it smaller itself
      input.form.requestSubmit();
    } finally {
      setTimeout(() => {
        delete label.dataset.busy;
        words.textContent = said;
      }, 4000);
    }
  }

  async function shrink(input) {
    try {
      const small = await cotter.smaller(input.files[0]);
      const files = new DataTransfer();
      files.items.add(new File([small.bytes], small.name, { type: small.type }));
      input.files = files.files;
    } catch {
      // as it came, then
    }
  }

  for (const box of document.querySelectorAll("[data-shoot]")) dress(box);

  // Back from the page that it led to: the same photo may be taken again.
  addEventListener("pageshow", () => {
    for (const input of document.querySelectorAll('[data-shoot] input[type="file"]')) input.value = "";
  });
})();
