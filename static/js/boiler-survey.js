// Readings at grid points: Enter goes to the next point. What is typed stays in its point, however many figures it has:
// nothing moves on by itself. Without this each point is tapped.
"use strict";

(() => {
  const table = document.querySelector("[data-readings]");
  if (!table) return;
  const points = [...table.querySelectorAll("input")];
  const keys = document.querySelector(".readings-keys");
  const told = document.querySelector("[data-read]");
  let last = points.find((point) => !point.value) || points[0];
  keys.hidden = false;

  const count = () => { told.textContent = points.filter((point) => point.value.trim()).length; };

  const go = (from, step) => {
    const next = points[points.indexOf(from) + step];
    if (next) { next.focus(); next.select(); }
  };

  table.addEventListener("focusin", (event) => {
    if (event.target.matches("input")) last = event.target;
  });
  table.addEventListener("input", count);
  table.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("input")) return;
    event.preventDefault();
    if (!event.repeat) go(event.target, 1); // held down, it would run over points
  });
  keys.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if ("step" in button.dataset) { go(last, Number(button.dataset.step)); return; }
    const point = last;
    if (button.dataset.mark === "!") {
      if (point.value && !point.value.endsWith("!")) point.value += "!";
      point.focus();
    } else {
      point.value = button.dataset.mark;
      go(point, 1);
    }
    count();
    point.form.dispatchEvent(new Event("input", { bubbles: true })); // for its draft
  });
  document.addEventListener("cotter:filled", count);
})();
