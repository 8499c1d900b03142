// A removal while the workshop computer does not answer: each answer waits on this device, and the next question opens.
"use strict";

(() => {
  const page = () => document.getElementById("strip-away");
  const address = (removal) => `/strip/${encodeURIComponent(removal)}`;
  const ASKS = { note: "as_found", "no-photo": "photo", "crack-test": "crack_test" };
  const told = (each) => {
    const [, place, removal, what] = new URL(each.url).pathname.split("/");
    const asked = new URLSearchParams(each.body).get("asked");
    const question = ASKS[what] || what;
    return { place, removal: decodeURIComponent(removal), question: asked ? `${question} ${asked}` : question };
  };

  document.addEventListener("drawn", () => {
    if (page()) away.keep_ahead(JSON.parse(page().dataset.ahead).map(address));
  });

  document.addEventListener("waiting", async ({ detail: { waiting } }) => {
    const asked = document.getElementById("question");
    if (!page() || !asked || !away.now()) return;
    const strip = waiting.map(told).filter((each) => each.place === "strip");
    const answered = strip.filter((each) => each.removal === page().dataset.removal).map((each) => each.question);
    const off = strip.filter((each) => each.question === "off").map((each) => each.removal);
    const waits = JSON.parse(page().dataset.after).filter((each) => !off.includes(each));
    const open = [...document.querySelectorAll("template.question")].filter((each) => !answered.includes(each.dataset.question));
    const next = open.find((each) => each.dataset.question !== "off" || !waits.length);
    if (!answered.includes(asked.dataset.question) && asked.querySelector("form")) return;
    if (next) ask(asked, next, answered.length);
    else await go_on(asked, open.length > 0, off);
  });

  const ask = (asked, next, count) => {
    asked.dataset.question = next.dataset.question;
    asked.replaceChildren(next.content.cloneNode(true));
    const by = localStorage.getItem("endfloat-strip-by"), field = asked.querySelector("[name=by]");
    if (field && !field.value && by) field.value = by;
    asked.hidden = false;
    away.note(asked, [`Kept on this device: ${count} of what this removal asks. The rules are asked again when it is sent.`]);
    document.dispatchEvent(new Event("furnish"));
  };

  const go_on = async (asked, open, off) => {
    asked.hidden = true;
    const next = JSON.parse(page().dataset.ahead).find((removal) => !off.includes(removal));
    const there = next && await away.has(address(next));
    const words = open ? "What is asked before is kept on this device. First take off what waits on the engine." : "All that is asked here is kept on this device; it is sent when the workshop computer answers.";
    away.note(asked, [words], ...(there ? [away.link("Next removal", address(next))] : []));
  };

  document.addEventListener("submit", ({ target }) => {
    if (page() && target.elements.by?.value) localStorage.setItem("endfloat-strip-by", target.elements.by.value);
  }, true);
})();
