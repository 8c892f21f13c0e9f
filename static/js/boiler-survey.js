// Readings at grid points: the keyboard moves on by itself once a figure is whole. Without it each point is tapped.
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

  // As many decimals as the gauge shows, or as the readings before have: 12.3, or 12.34. Enter goes on as well.
  const decimals = () => {
    if (Number(table.dataset.readings)) return Number(table.dataset.readings);
    const whole = points.map((point) => /[.,](\d+)!?$/.exec(point.value)?.[1].length).filter(Boolean);
    return whole.length > 1 ? Math.max(...whole) : 0;
  };
  let usual = decimals();

  const go = (from, step) => {
    const next = points[points.indexOf(from) + step];
    if (next) { next.focus(); next.select(); }
  };

  table.addEventListener("focusin", (event) => {
    if (!event.target.matches("input")) return;
    last = event.target;
    usual = decimals();
  });
  table.addEventListener("input", (event) => {
    count();
    const typed = /[.,](\d+)$/.exec(event.target.value);
    if (/^[xn]$/i.test(event.target.value) || (usual && typed && typed[1].length >= usual && event.inputType !== "deleteContentBackward")) go(event.target, 1);
  });
  table.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("input")) return;
    event.preventDefault();
    go(event.target, 1);
  });
  keys.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if ("back" in button.dataset) { go(last, -1); return; }
    const point = button.dataset.mark === "!" && !last.value ? points[points.indexOf(last) - 1] || last : last;
    if (button.dataset.mark === "!") {
      if (point.value && !point.value.endsWith("!")) point.value += "!";
      last.focus();
    } else {
      point.value = button.dataset.mark;
      go(point, 1);
    }
    count();
    point.form.dispatchEvent(new Event("input", { bubbles: true })); // for its draft
  });
  document.addEventListener("cotter:filled", count);
})();
