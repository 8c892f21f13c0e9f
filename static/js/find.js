// First answers while somebody types into a box with data-first. Without this the box is a plain form.
"use strict";

(() => {
  const PAUSE_MS = 200;

  class Finder {
    constructor(input) {
      this.input = input;
      this.asked = "";
      this.request = null;
      this.timer = 0;
      this.panel = document.createElement("div");
      this.panel.className = "first-panel";
      this.panel.hidden = true;
      this.said = document.createElement("p");
      this.said.className = "unseen";
      this.said.setAttribute("role", "status");
      input.parentElement.append(this.panel, this.said);
      for (const [name, value] of [
        ["role", "combobox"],
        ["aria-autocomplete", "list"],
        ["aria-expanded", "false"],
      ])
        input.setAttribute(name, value);
      input.addEventListener("input", () => this.typed());
      input.addEventListener("keydown", (event) => this.pressed(event));
      // What the page answers already is not asked again by only touching the box.
      const answered = input.value.trim();
      input.addEventListener("focus", () => input.value.trim() !== answered && this.typed());
      document.addEventListener("pointerdown", (event) => {
        if (!input.parentElement.contains(event.target)) this.close();
      });
      input.parentElement.addEventListener("focusout", (event) => {
        if (!input.parentElement.contains(event.relatedTarget)) this.close();
      });
      // Pressing an answer must not take the focus away first, which would close the panel under the finger.
      this.panel.addEventListener("mousedown", (event) => event.preventDefault());
    }

    // What is being asked is only what was typed: an answer to anything older is never shown.
    typed() {
      const text = this.input.value.trim();
      clearTimeout(this.timer);
      if (!text) {
        this.request?.abort();
        this.close();
        this.asked = "";
        return;
      }
      if (text === this.asked) return;
      this.timer = setTimeout(() => this.ask(text), PAUSE_MS);
    }

    async ask(text) {
      this.request?.abort();
      this.request = new AbortController();
      const address = `${this.input.dataset.first}?q=${encodeURIComponent(text)}`;
      try {
        const answer = await fetch(address, { signal: this.request.signal, headers: { "X-Requested-With": "fetch" } });
        if (!answer.ok || answer.redirected) return;
        this.show(text, await answer.text());
      } catch {
        // aborted, or no signal: the form still works
      }
    }

    show(text, html) {
      if (text !== this.input.value.trim()) return;
      this.asked = text;
      this.panel.innerHTML = html;
      this.answers = [...this.panel.querySelectorAll('[role="option"]')];
      this.answers.forEach((answer, place) => (answer.id = `${this.input.id}-first-${place}`));
      const list = this.panel.querySelector('[role="listbox"]');
      if (list) list.id = `${this.input.id}-first`;
      if (list) this.input.setAttribute("aria-controls", list.id);
      else this.input.removeAttribute("aria-controls");
      this.at = -1;
      const many = Number(this.panel.firstElementChild.dataset.many) || this.answers.length;
      const near = this.panel.querySelector(".first-near")?.textContent.trim() ?? "";
      this.said.textContent = `${near} ${many} ${many === 1 ? "answer" : "answers"}`.trim();
      if (document.activeElement === this.input) this.open();
    }

    open() {
      this.panel.hidden = false;
      this.input.setAttribute("aria-expanded", String(this.answers.length > 0));
    }

    close() {
      this.panel.hidden = true;
      this.input.setAttribute("aria-expanded", "false");
      this.choose(-1);
      this.asked = "";
    }

    choose(place) {
      this.answers?.[this.at]?.removeAttribute("aria-selected");
      this.at = place;
      const answer = this.answers?.[place];
      if (!answer) return this.input.removeAttribute("aria-activedescendant");
      answer.setAttribute("aria-selected", "true");
      answer.scrollIntoView({ block: "nearest" });
      this.input.setAttribute("aria-activedescendant", answer.id);
    }

    pressed(event) {
      const many = this.panel.hidden ? 0 : (this.answers?.length ?? 0);
      if (event.key === "ArrowDown" && many) this.choose((this.at + 1) % many);
      else if (event.key === "ArrowUp" && many) this.choose(this.at <= 0 ? many - 1 : this.at - 1);
      else if (event.key === "Enter" && many && this.at >= 0) this.answers[this.at].click();
      else if (event.key === "Escape" && !this.panel.hidden) this.close();
      else if (event.key === "Enter") return this.request?.abort();
      else return;
      event.preventDefault();
    }
  }

  for (const input of document.querySelectorAll("input[data-first]")) new Finder(input);
})();
