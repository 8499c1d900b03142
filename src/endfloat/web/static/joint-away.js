// A joint while the workshop computer does not answer: the rest of the pass goes on from what the page carries.
"use strict";

(() => {
  const form = () => document.querySelector("main form[data-rest]");

  document.addEventListener("waiting", ({ detail: { waiting } }) => {
    if (!form() || !away.now()) return;
    const kept = waiting.filter((each) => each.url === form().action).map((each) => new URLSearchParams(each.body).get("key"));
    const next = JSON.parse(form().dataset.rest).find((row) => !kept.includes(row.key));
    form().hidden = !next;
    if (!next) end();
    else if (form().elements.bolt.value !== next.bolt) show(next, kept.length);
  });

  const ring = () => document.querySelector(".joint-drawing .next");
  const end = () => {
    ring()?.remove();
    document.querySelector("main .amount").hidden = true;
    away.note(form(), [form().dataset.end]);
  };
  const show = (next, count) => {
    if (ring()) ring().outerHTML = next.ring;
    document.querySelector(".joint-drawing").setAttribute("aria-label", next.words);
    const { elements } = form();
    [elements.key.value, elements.bolt.value] = [next.key, next.bolt];
    if (elements.seen) elements.seen.value = "";
    form().querySelector("button").textContent = `BOLT ${next.bolt} PULLED`;
    document.getElementById("left").textContent = next.left;
    const note = document.getElementById("note");
    if (note) note.textContent = next.note;
    for (const saved of form().querySelectorAll(".saved")) saved.remove();
    const lines = count === 1 ? "The pull line of the one that waits here is" : `The pull lines of the ${count} that wait here are`;
    away.note(document.getElementById("left"), [`Only this device may record this joint until the workshop computer answers. ${lines} not drawn yet.`]);
  };
})();
