// While the workshop computer does not answer: pages of what comes next are kept beforehand, what cannot wait on
// this device says so, and a page that was drawn before its entries were sent is drawn again.
"use strict";

const away = (() => {
  const TWICE = 600;
  const KEPT = "endfloat-pages";
  const now = () => document.body.dataset.away === "yes";
  const link = (words, address) => {
    const made = document.createElement("a");
    [made.className, made.href, made.textContent] = ["button", address, words];
    const line = document.createElement("p");
    line.append(made);
    return line;
  };
  // one box a page, before `place`; a page without `place` has none
  const note = (place, sentences, ...more) => {
    const earlier = document.getElementById("away-note");
    if (earlier) earlier.remove();
    if (!place || !sentences.length) return;
    const box = document.createElement("section");
    [box.id, box.className] = ["away-note", "saved"];
    box.setAttribute("role", "status");
    for (const sentence of sentences) {
      const line = document.createElement("p");
      line.textContent = sentence;
      box.append(line);
    }
    box.append(...more);
    place.before(box);
  };
  const has = async (address) => "caches" in window && Boolean(await caches.match(address, { ignoreSearch: true }));

  const keep_ahead = async (addresses) => {
    if (!("caches" in window) || now()) return;
    try {
      const kept = await caches.open(KEPT);
      for (const address of addresses) {
        const answer = await fetch(address);
        if (answer.ok && !answer.redirected) {
          await kept.delete(address, { ignoreSearch: true });
          await kept.put(address, answer);
        }
      }
    } catch {
      // Nothing answers: what was kept before stays.
    }
  };

  // a form that may not wait here is sent only when somebody is there to take it
  const MUST = "This waits for the workshop computer. Nothing was kept; what you typed stands here until you leave the page.";
  let answered = null;
  const ask = async (event) => {
    const form = event.target, button = event.submitter;
    if (event.defaultPrevented || !form.matches("main form[method=post]:not([data-outbox])") || answered === form || !(form.dataset.away || now())) return;
    event.preventDefault();
    try {
      if (!(await fetch("/alive", { cache: "no-store", signal: AbortSignal.timeout(4000) })).ok) throw new Error("no answer");
    } catch {
      note(form, [form.dataset.away || MUST]);
      document.getElementById("away-note").scrollIntoView({ block: "center" });
      return;
    }
    answered = form;
    form.requestSubmit(button);
    answered = null;
  };
  document.addEventListener("submit", ask);

  // a second tap of a hand in a glove is no second deed, not even on the page that the first one led to
  const once = (event) => {
    if (!event.target.matches("[data-once]") || answered === event.target) return;
    const pressed = Date.now(), before = Number(sessionStorage.getItem("endfloat-pressed") || 0);
    if (pressed - before < TWICE) {
      event.preventDefault();
      event.stopPropagation();
    } else sessionStorage.setItem("endfloat-pressed", String(pressed));
  };
  addEventListener("submit", once, true);

  let before = 0;
  document.addEventListener("drawn", () => { before = 0; });
  document.addEventListener("waiting", ({ detail: { waiting } }) => {
    const here = document.querySelector("main [data-outbox]:not(#entry), main #step-away");
    if (here && before && !waiting.length && !document.getElementById("entry")) draw_again();
    before = waiting.length;
  });
  const typed = () => [...document.querySelectorAll("main input:not([type=hidden])")].some((field) =>
    field.value !== field.defaultValue || field.checked !== field.defaultChecked);
  const draw_again = () => {
    if (!typed()) { location.reload(); return; }
    note(document.querySelector("main h1"), ["Everything that waited is sent. This page was drawn before that; what you typed is still in it."],
      link("Draw it again", location.href));
  };

  return { now, note, link, has, keep_ahead };
})();
