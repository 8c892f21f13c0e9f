// A press on the picture of a sheet begins the printing there. Without it, the place is typed as a number.
"use strict";

(() => {
  const start = document.querySelector("#id_start");
  const tell = () => {
    for (const hint of document.querySelectorAll(".needs-scripts")) hint.hidden = false;
  };

  document.addEventListener("click", (event) => {
    const picture = event.target.closest("img[data-cells]");
    if (!picture || !start) return;
    const box = picture.getBoundingClientRect();
    const x = (1000 * (event.clientX - box.left)) / box.width;
    const y = (1000 * (event.clientY - box.top)) / box.height;
    const cells = picture.dataset.cells.split(";").map((cell) => cell.split(",").map(Number));
    const pressed = cells.findIndex(([left, top, right, bottom]) => x >= left && x <= right && y >= top && y <= bottom);
    if (pressed < 0) return;
    start.value = pressed + 1;
    start.dispatchEvent(new Event("change", { bubbles: true }));
  });

  tell();
  document.addEventListener("htmx:afterSwap", tell);
})();
