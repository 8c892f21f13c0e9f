// Marks on a photo of a piece: a tap sets one or moves one, at the size the photo is shown. Without this the server does
// the same after each tap. Where there is no photo yet, marks are added and described.
"use strict";

const list = document.querySelector("[data-marks]");
if (list) {
  const tap = document.querySelector("[data-tap]");
  const picture = tap?.querySelector("input[type=image]");
  const over = tap?.querySelector("svg");
  const shown = document.querySelector("[data-shown]");
  const pattern = document.querySelector("[data-new-mark]");
  const moves = document.querySelector("#moves");
  const total = document.querySelector("[name=mark-TOTAL_FORMS]");
  const most = Number(document.querySelector("[name=mark-MAX_NUM_FORMS]").value);
  const cards = () => [...list.querySelectorAll(":scope > [data-mark]")];
  const field = (card, name) => card.querySelector(`[name$="-${name}"]`);

  const drawn = (name, attributes, text = "") => {
    const shape = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) shape.setAttribute(key, value);
    shape.textContent = text;
    return shape;
  };

  // The same figure as crack_context.Dot: a ring where it was tapped, its number to the upper right unless the photo ends.
  const dot = (number, across, down) => {
    const [width, height] = [Number(tap.dataset.width), Number(tap.dataset.height)];
    const unit = Math.max(width, height) / 100;
    const [x, y] = [across * width, down * height];
    const tagX = x + 10 * unit < width ? x + 6 * unit : x - 6 * unit;
    const tagY = y - 10 * unit > 0 ? y - 6 * unit : y + 6 * unit;
    const group = drawn("g", {});
    group.append(
      drawn("line", { class: "mark-line", x1: x, y1: y, x2: tagX, y2: tagY }),
      drawn("circle", { class: "mark-ring", cx: x, cy: y, r: 1.6 * unit }),
      drawn("circle", { class: "mark-disc", cx: tagX, cy: tagY, r: 3.2 * unit }),
      drawn(
        "text",
        { class: "mark-number", x: tagX, y: tagY + 1.4 * unit, "font-size": 4 * unit, "text-anchor": "middle" },
        number,
      ),
    );
    return group;
  };

  const changed = () => list.dispatchEvent(new Event("input", { bubbles: true })); // for its draft

  // Numbers, names and ids follow the order of the cards; the marks on the photo follow the cards.
  const settle = () => {
    const dots = [];
    if (moves) moves.length = 1;
    cards().forEach((card, index) => {
      for (const node of card.querySelectorAll("[name],[id],[for],[aria-describedby]")) {
        for (const name of ["name", "id", "for", "aria-describedby"]) {
          const value = node.getAttribute(name);
          if (value) node.setAttribute(name, value.replace(/mark-(\d+|__prefix__)-/g, `mark-${index}-`));
        }
      }
      for (const number of card.querySelectorAll("[data-number]")) number.textContent = index + 1;
      card.querySelector("[data-out]").value = `out:${index + 1}`;
      moves?.add(new Option(`moves mark ${index + 1}`, index + 1));
      if (shown && field(card, "photo").value === shown.value) {
        dots.push(dot(index + 1, Number(field(card, "across").value), Number(field(card, "down").value)));
      }
    });
    total.value = cards().length;
    if (moves) moves.parentElement.hidden = !cards().length;
    over?.replaceChildren(...dots);
  };

  const addCard = () => {
    if (cards().length >= most) return null;
    const before = cards().at(-1);
    const card = document.createElement("li");
    card.className = "card";
    card.dataset.mark = "";
    card.append(pattern.content.cloneNode(true));
    list.append(card);
    if (before) field(card, "unit").value = field(before, "unit").value;
    return card;
  };

  const show = (choice) => {
    Object.assign(tap.dataset, { width: choice.width, height: choice.height, large: choice.large });
    picture.src = choice.large;
    picture.width = choice.width;
    picture.height = choice.height;
    over.setAttribute("viewBox", `0 0 ${choice.width} ${choice.height}`);
  };

  picture?.addEventListener("click", (event) => {
    event.preventDefault();
    const box = picture.getBoundingClientRect();
    const typed = event.detail === 0; // a key: there is no place, so it is described
    const card = cards()[Number(moves.value) - 1] || addCard();
    if (!card) return;
    if (!typed) {
      const share = (at, from, size) => Math.min(Math.max((at - from) / size, 0), 1).toFixed(4);
      field(card, "photo").value = shown.value;
      field(card, "across").value = share(event.clientX, box.left, box.width);
      field(card, "down").value = share(event.clientY, box.top, box.height);
      card.querySelector("[data-on]").textContent = "Marked on a photo.";
    }
    settle();
    changed();
    const next = field(card, typed ? "where" : "length");
    if (!next.value) next.focus({ preventScroll: !typed });
  });

  document.addEventListener("click", (event) => {
    const choice = event.target.closest("[data-photo]");
    const out = event.target.closest("[data-out]");
    const add = event.target.closest("[data-add]");
    if (!choice && !out && !add) return;
    event.preventDefault();
    if (choice) {
      shown.value = choice.dataset.photo;
      document.querySelector("[data-photo][aria-current]")?.removeAttribute("aria-current");
      choice.setAttribute("aria-current", "true");
      show(choice.dataset);
    }
    if (out) out.closest("[data-mark]").remove();
    const card = add && addCard();
    settle();
    changed();
    if (card) field(card, "length").focus();
  });

  // A draft is put back: as many cards as it has marks, and then where they are.
  document.addEventListener("cotter:put-back", ({ detail }) => {
    const wanted = Number(detail.get("mark-TOTAL_FORMS")?.[0] ?? cards().length);
    while (cards().length > wanted) cards().at(-1).remove();
    while (cards().length < wanted && addCard());
    settle();
  });
  document.addEventListener("cotter:filled", () => {
    for (const card of cards()) if (field(card, "photo").value) card.querySelector("[data-on]").textContent = "Marked on a photo.";
    settle();
  });

  if (tap) {
    tap.classList.add("scaled");
    show(tap.dataset);
  }
  settle();
}

// What is still to say is not left standing when it could not be asked again.
for (const trouble of ["htmx:sendError", "htmx:responseError", "htmx:timeout"]) {
  document.addEventListener(trouble, () => {
    for (const line of document.querySelectorAll("[id^=still-]")) line.replaceChildren(line.querySelector(".icon") || "", " Not checked: the server does not answer.");
  });
}
