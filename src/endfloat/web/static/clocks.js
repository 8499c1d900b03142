// The clocks: they count between two looks at the workshop computer, and sound when one runs out.
// Without this script the page tells the same figures and ends, and is fetched again by itself.
"use strict";

(() => {
  const FETCH = 20000, WARNING = 60;
  const clocks = () => document.getElementById("clocks");
  const strip = () => document.getElementById("clock-strip");
  const loaded = Date.now();
  const stamp = document.body.dataset.drawn;
  if (!stamp) return;
  let offset = Date.parse(stamp) - loaded;
  const now = () => Date.now() + offset;

  const figures = (left) => {
    const whole = Math.max(0, Math.floor(left)), two = (n) => String(n).padStart(2, "0");
    const all = Math.floor(whole / 60), over = two(whole % 60);
    return all < 100 ? `${two(all)}:${over}` : `${Math.floor(all / 60)}:${two(all % 60)}:${over}`;
  };
  const minutes = (seconds) => {
    const whole = Math.floor(seconds / 60);
    if (whole < 100) return whole < 1 ? "less than a minute" : `${whole} minute${whole === 1 ? "" : "s"}`;
    const hours = Math.floor(whole / 60), rest = whole % 60;
    return `${hours} hour${hours === 1 ? "" : "s"}${rest ? ` ${rest} minutes` : ""}`;
  };

  // sound: browsers give it only after a touch on this page
  let sound = null;
  const wanted = () => { try { return localStorage.getItem("sound") === "on"; } catch { return false; } };
  const want = (on) => { try { localStorage.setItem("sound", on ? "on" : "off"); } catch { /* then it is for this page only */ } };
  const beep = (times) => {
    if (!sound || sound.state !== "running") return;
    for (let n = 0; n < times; n += 1) {
      const tone = sound.createOscillator(), loud = sound.createGain(), at = sound.currentTime + n * 0.5;
      tone.frequency.value = 880;
      loud.gain.value = 0.5;
      tone.connect(loud).connect(sound.destination);
      tone.start(at);
      tone.stop(at + 0.3);
    }
  };
  const soundOn = async () => {
    sound = sound || new AudioContext();
    await sound.resume();
    want(true);
    beep(1);
    offer();
  };
  const offer = () => {
    const box = document.getElementById("sound");
    if (!box) return;
    const runs = Boolean(sound && sound.state === "running");
    const words = document.createElement("p");
    words.setAttribute("role", "status");
    words.textContent = runs ? "Sound is on while this page is open." : "";
    const button = document.createElement("button");
    button.type = "button";
    button.className = "outlined";
    button.textContent = runs ? "Sound off" : "Sound on";
    button.addEventListener("click", async () => {
      if (runs) { await sound.suspend(); want(false); offer(); } else await soundOn();
    });
    box.replaceChildren(button, words);
  };

  // each end sounds once a page; an open time also a minute before
  const sounded = new Set();
  const cry = (each, left) => {
    const name = `${each.dataset.name}|${each.dataset.end}`, soon = `${name}|soon`;
    if (each.dataset.sort === "finish before" && left > 0 && left <= WARNING && !sounded.has(soon)) { sounded.add(soon); beep(2); }
    if (left <= 0 && left > -FETCH / 1000 && !sounded.has(name)) { sounded.add(name); beep(6); }
  };

  const count = () => {
    for (const each of document.querySelectorAll("#clocks [data-end]")) {
      const left = (Date.parse(each.dataset.end) - now()) / 1000;
      const shown = figures(left), box = each.querySelector(".figures time");
      if (box && box.textContent !== shown) box.textContent = shown;
      if (box) box.parentElement.classList.toggle("long", shown.length > 5);
      cry(each, left);
      if (left <= 0 && each.dataset.over !== "yes") { each.dataset.over = "yes"; fetched(); }
    }
    for (const each of document.querySelectorAll("#clock-strip [data-end], .step-clock [data-end], .gate [data-end]")) {
      const left = (Date.parse(each.dataset.end) - now()) / 1000, early = each.dataset.sort === "not before";
      const rest = left > 0 ? (early ? `${minutes(left + 59)} more` : `${minutes(left)} left`) : (early ? "over" : "open time ran out");
      const words = `${each.dataset.name}: ${rest}`;
      if (each.textContent !== words) each.textContent = words;
      if (!clocks() && each.closest("#clock-strip")) cry(each, left);
    }
    for (const each of document.querySelectorAll("[data-left]")) {
      const left = (Date.parse(each.dataset.left) - now()) / 1000, words = left > 0 ? minutes(left + 59) : "over: look again";
      if (each.textContent !== words) each.textContent = words;
    }
  };

  // the record is right, not this device: its figures are fetched again
  const fetched = async () => {
    if (!clocks() && !strip()) return;
    try {
      const answer = await fetch("/clocks", { cache: "no-store" });
      if (!answer.ok) return;
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      const at = fresh.body.dataset.drawn;
      if (!at || fresh.body.dataset.job !== document.body.dataset.job) return;
      offset = Date.parse(at) - Date.now();
      const [here, there] = [clocks(), fresh.getElementById("clocks")];
      if (here && there && here.innerHTML !== there.innerHTML) {
        for (const each of there.querySelectorAll("[data-end]")) if (Date.parse(each.dataset.end) <= now()) each.dataset.over = "yes";
        here.replaceChildren(...there.children);
      }
      const [line, new_line] = [strip(), fresh.getElementById("clock-strip")];
      if (line && new_line) line.replaceChildren(...new_line.children);
      else if (line) line.remove();
    } catch {
      // The workshop computer does not answer; the figures go on from what it said last.
    }
    count();
  };

  offer();
  count();
  if (clocks() || strip()) {
    setInterval(count, 250);
    setInterval(fetched, FETCH);
    document.addEventListener("visibilitychange", () => { if (!document.hidden) fetched(); });
  }
  if (wanted()) document.addEventListener("pointerdown", () => { if (!sound) soundOn(); }, { once: true });
})();
