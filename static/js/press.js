// A plain form is sent when the server answers, and never lost when it does not: it stays as it is on its page, and its
// draft waits. Whatever asks for a signature says data-sign: it waits as ready to sign, and is never sent by itself.
"use strict";

(() => {
  const { drafts, sending } = cotter;
  const person = document.querySelector('meta[name="person"]');
  const AGAIN_MS = 5_000;
  if (!person || !window.indexedDB) return;

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (event.defaultPrevented || !drafts.isPost(form) || cotter.isKept(form)) return;
    event.preventDefault();
    try {
      await press(form, event.submitter);
    } finally {
      delete event.submitter?.dataset.busy; // it may stand outside of the form
      delete form.dataset.sent;
    }
  });

  async function press(form, submitter) {
    const mine = drafts.of(form);
    const before = mine?.pressed ? mine.key : "";
    await drafts.keep(form);
    const me = await sending.who(before ? { key: before } : "");
    if (!me) return later(form, mine, submitter);
    if (me.person !== Number(person.content)) return signedOut(form, me);
    if (me.arrived?.[before]) return done(form, me.arrived[before]);
    if (mine) {
      Object.assign(mine, { pressed: Date.now(), ready: "" });
      await drafts.keep(form);
    }
    send(form, submitter, me.token, mine?.key);
  }

  // As the browser itself would have sent it, with the key by which the server knows it again.
  function send(form, submitter, token, key) {
    const more = { csrfmiddlewaretoken: token };
    if (key) more["cotter-key"] = key;
    if (submitter?.name) more[submitter.name] = submitter.value;
    const served = form.getAttribute("action");
    if (submitter?.hasAttribute("formaction")) form.setAttribute("action", submitter.getAttribute("formaction"));
    form.querySelector('[name="csrfmiddlewaretoken"]')?.remove();
    const added = Object.entries(more).map(([name, value]) => Object.assign(document.createElement("input"), { type: "hidden", name, value }));
    form.append(...added);
    HTMLFormElement.prototype.submit.call(form);
    for (const input of added.slice(1)) input.remove();
    if (served === null) form.removeAttribute("action");
    else form.setAttribute("action", served);
  }

  async function later(form, mine, submitter) {
    if (!form.dispatchEvent(new CustomEvent("cotter:no-answer", { bubbles: true, cancelable: true }))) return drafts.forget(form); // its page goes on without
    const signs = "sign" in form.dataset || drafts.hasSecret(form);
    if (mine) {
      mine.ready = signs ? "sign" : "send";
      mine.pressed ||= 0;
      await drafts.keep(form);
    }
    const button = submitter?.textContent.trim() || "the button";
    const kept = mine ? (signs ? "What you entered is kept on this phone, ready to sign." : "What you entered is kept on this phone.") : "";
    tell(form, `Nothing was sent: the server does not answer. ${kept} Press “${button}” again when it does.`);
    whenItAnswers(() => tell(form, `The server answers again. ${signs ? "Read it over" : "Look at it"}, then press “${button}”.`));
  }

  function whenItAnswers(say) {
    const ask = async () => ((await sending.who()) ? say() : setTimeout(ask, AGAIN_MS));
    setTimeout(ask, AGAIN_MS);
  }

  function signedOut(form, me) {
    const box = tell(form, `${me.person ? `${me.name} is signed in here now` : "You are signed out"}. Nothing was sent. Sign in as ${person.dataset.name}, and what you entered is put back.`);
    const link = Object.assign(document.createElement("a"), { className: "button", textContent: "Sign in", href: `/sign-in/?next=${encodeURIComponent(location.pathname + location.search)}` });
    box.querySelector(".notice-body").append(link);
  }

  // The answer to it was lost on the way.
  async function done(form, onward) {
    await drafts.forget(form);
    drafts.see(tell(form, "What you sent before had arrived. Press again only for what you changed since."), onward);
  }

  function tell(form, text) {
    const there = form.previousElementSibling;
    if (there?.classList.contains("kept-note")) there.remove();
    const box = cotter.notice("warn", [text]);
    form.before(box);
    box.tabIndex = -1;
    box.focus();
    return box;
  }
})();
