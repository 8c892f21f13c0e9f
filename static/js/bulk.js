// How many are ticked, said as one ticks; and all of them at once. Without it the list and its buttons work as they are.
"use strict";

(() => {
  const told = document.querySelector("#chosen");
  const all = document.querySelector("#all");
  const boxes = [...document.querySelectorAll(".pick input")];
  if (!told || !all) return;

  function tell() {
    const count = boxes.filter((box) => box.checked).length;
    told.textContent = `${count} of ${boxes.length} chosen`;
    all.textContent = count === boxes.length ? "None of them" : "All of them";
  }

  all.hidden = false;
  all.addEventListener("click", () => {
    const on = boxes.some((box) => !box.checked);
    for (const box of boxes) box.checked = on;
    tell();
  });
  document.addEventListener("change", tell);
  addEventListener("pageshow", tell);
})();
