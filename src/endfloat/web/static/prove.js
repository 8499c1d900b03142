// The time since the engine fired goes on while the page stands; when a rule falls due the page is asked for again,
// unless something is being typed. Without this script "Look again" does the same.
"use strict";

(() => {
  const shown = document.querySelector("[data-since]");
  if (!shown) return;
  const since = Number(shown.dataset.since), drawn = Date.now();
  const due = shown.dataset.look.split(" ").map(Number).filter((each) => each > since);
  const words = (all) => {
    const hours = Math.floor(all / 3600), minutes = Math.floor(all / 60) % 60;
    if (hours) return `${hours} h ${minutes} min`;
    return minutes ? `${minutes} min ${all % 60} s` : `${all} s`;
  };
  const typed = () => [...document.querySelectorAll("main input:not([type=hidden])")].some((each) => each === document.activeElement || each.value !== each.defaultValue);
  setInterval(() => {
    const now = since + Math.floor((Date.now() - drawn) / 1000);
    shown.textContent = words(now);
    if (due.length && now > due[0] && !typed()) location.replace("/prove/run");
  }, 1000);
})();
