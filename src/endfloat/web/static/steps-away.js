// Steps of the build while the workshop computer does not answer: DONE waits on this device, and the next step opens.
"use strict";

(() => {
  const page = () => document.getElementById("step-away");
  const named = (each) => (new URL(each.url).pathname.match(/^\/build\/([^/]+)\/done$/) || [])[1];
  const address = (step) => `/build/${encodeURIComponent(step)}`;
  const form = () => document.querySelector("main form.done");

  let pressed = false;
  document.addEventListener("submit", (event) => { if (event.target === form()) pressed = true; }, true);
  document.addEventListener("drawn", () => {
    pressed = false;
    if (page()) away.keep_ahead(JSON.parse(page().dataset.ahead).map(address));
  });

  document.addEventListener("waiting", async ({ detail: { waiting } }) => {
    if (!page() || !away.now()) return;
    const kept = waiting.map(named).filter(Boolean).map(decodeURIComponent);
    fetch_less(kept.map(address));
    if (kept.includes(page().dataset.step)) await go_on(kept);
    else open_all_the_same(kept);
  });

  const fetch_less = (kept) => {
    const box = document.querySelector(".ahead");
    if (!box || !kept.length) return;
    for (const each of box.querySelectorAll("a")) each.parentElement.hidden = kept.includes(each.pathname);
    box.querySelector("h2").textContent = "Fetch for the next steps";
    box.hidden = !box.querySelector("li:not([hidden])");
  };

  const go_on = async (kept) => {
    const next = JSON.parse(page().dataset.ahead).find((step) => !kept.includes(step));
    const there = next && await away.has(address(next));
    if (pressed && there) { location.href = address(next); return; }
    if (form()) form().hidden = true;
    const words = ["DONE is kept on this device; it is sent when the workshop computer answers."];
    if (!there) words.push("The page of the next step is not kept on this device; it opens when the workshop computer answers.");
    away.note(page(), words, ...(there ? [away.link("Next step", address(next))] : []));
  };

  // the page was drawn before the steps that wait here; the rules are asked again when they are sent
  const open_all_the_same = (kept) => {
    const after = JSON.parse(page().dataset.after), template = document.getElementById("done-all-the-same");
    if (!template || !after.every((step) => kept.includes(step))) return;
    document.getElementById("shut").hidden = true;
    page().after(template.content.cloneNode(true));
    template.remove();
    const words = `${after.length === 1 ? "The step before this one waits" : `The ${after.length} steps before this one wait`} on this device.`;
    away.note(page(), [`${words} The rules are asked again when they are sent.`]);
    document.dispatchEvent(new Event("furnish"));
  };
})();
