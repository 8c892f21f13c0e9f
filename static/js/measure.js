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

  document.addEventListener("input", () => {
    const told = document.querySelector("[data-so-far]");
    if (told) told.textContent = [...document.querySelectorAll("[data-size]")].filter((size) => !blank(size)).length;
  });

  // One at a time: the field is ready to type in.
  const big = document.querySelector(".size-big .spots input");
  if (big) big.focus({ preventScroll: true });
})();
