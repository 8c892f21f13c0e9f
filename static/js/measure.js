// Helps at the bench. Without it the sheet works as it stands: "Check" keeps and judges what is typed.
"use strict";

(() => {
  const blank = (size) => [...size.querySelectorAll(".spots input")].every((input) => !input.value.trim());

  const setUnit = (size, option) => {
    const unit = option?.dataset.unit;
    const radio = unit && size.querySelector(`.size-unit input[value="${unit}"]`);
    if (radio) radio.checked = true;
  };

  // The instrument in hand is the one for the sizes to come; a size that has a figure keeps its own and its unit.
  document.addEventListener("change", (event) => {
    if (!event.target.matches("select[data-with]")) return;
    const size = event.target.closest("[data-size]");
    const folded = size.querySelector("details:has(select[data-with]) > summary");
    if (folded) folded.textContent = event.target.selectedOptions[0].textContent;
    if (blank(size)) setUnit(size, event.target.selectedOptions[0]);
    for (const other of document.querySelectorAll("[data-size]")) {
      if (other === size || !blank(other)) continue;
      const select = other.querySelector("select[data-with]");
      select.value = event.target.value;
      setUnit(other, select.selectedOptions[0]);
    }
  });

  // Patchy wifi in the shed: what could not be kept says so, and the verdict of an earlier figure is not left standing.
  for (const trouble of ["htmx:sendError", "htmx:responseError", "htmx:timeout"]) {
    document.addEventListener(trouble, (event) => {
      const told = event.detail.target;
      if (!told?.matches?.(".verdict")) return;
      const line = document.createElement("p");
      line.className = "red-ink";
      line.textContent = "Not kept and not judged: the server did not answer. What you typed is still here; it is sent again when you change it or go on.";
      told.replaceChildren(line);
    });
  }

  const count = () => {
    const told = document.querySelector("[data-so-far]");
    if (told) told.textContent = [...document.querySelectorAll("[data-size]")].filter((size) => !blank(size)).length;
  };
  document.addEventListener("input", count);

  // A draft is put back: it is judged as if it were typed.
  document.addEventListener("cotter:filled", () => {
    count();
    for (const size of document.querySelectorAll("[data-size]")) {
      if (!blank(size)) size.querySelector(".size-typed").dispatchEvent(new Event("judge"));
    }
  });

  // One at a time: the field is ready to type in.
  const big = document.querySelector(".size-big .spots input");
  if (big) big.focus({ preventScroll: true });
})();
