// Entry at the bench: own keypad, a gauge that types a line, and entries that wait on this device while the
// workshop computer does not answer. Without this script the forms work as plain forms.
// Told to other scripts as events of the document: "drawn" when there is another page, "waiting" with what waits here.
"use strict";

(() => {
  const A_LINE = /^\s*[+\-−]?\d*[.,]?\d+\s*\D*$/;
  const A_PAUSE = 1000;
  const A_WHILE = 20000;
  const TWICE = 333;
  const AGAIN = 5000;
  const get = (name) => document.getElementById(name);
  const entry = () => get("entry");
  const sheltered = () => document.querySelectorAll("main form[data-outbox]");
  const newKey = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, "0")).join("");

  const say = (box, text, ...buttons) => {
    if (!box) return;
    box.hidden = !text;
    box.className = !text ? "" : box.id === "refused" ? "problem" : "saved";
    box.replaceChildren();
    if (text) also(box, text, ...buttons);
  };
  const also = (box, text, ...buttons) => {
    if (!box) return;
    const line = document.createElement("p");
    line.textContent = text;
    box.hidden = false;
    box.className = box.id === "refused" ? "problem" : "saved";
    box.append(line, ...buttons);
  };
  const button = (words, deed) => {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "outlined office";
    made.textContent = words;
    made.addEventListener("click", deed);
    return made;
  };

  // what waits on this device; a browser has one engine open, and what was entered for another waits for that one
  const job = () => document.body.dataset.job || "";
  const mine = (each) => [null, job()].includes(new URLSearchParams(each.body).get("job"));

  // a sentence that begins with the title needs it no second time
  const named = (each) => each.title && each.refused.startsWith(each.title) ? each.told : each.words;
  const show = async () => {
    const all = await outbox.all();
    const waiting = all.filter((each) => !each.refused && mine(each));
    const elsewhere = all.filter((each) => !each.refused && !mine(each)).length;
    const refused = all.filter((each) => each.refused && mine(each));
    const kept = get("kept");
    const words = waiting.length ? `Kept on this device, ${waiting.length} waiting` : refused.length ? `Kept on this device, ${refused.length} not in the record` : kept.dataset.saved;
    if (kept.textContent !== words) kept.textContent = words;
    kept.classList.toggle("kept", waiting.length + refused.length > 0);
    const here = get("waiting");
    if (waiting.length && entry()) say(here, `${words}. Go on; it is sent when the workshop computer answers.`);
    else if (here && here.dataset.twice !== "yes") say(here, elsewhere ? `Kept on this device for another engine: ${elsewhere}. Open that engine and it is sent.` : "");
    // the latest first: it is the one that the person has just typed
    say(get("refused"), "");
    for (const each of refused.toReversed()) also(get("refused"), `Not in the record: ${named(each)}. ${each.refused}`,
      button("Correct it", () => correct(each)),
      button("Send it again", async () => { await outbox.put({ ...each, refused: "" }); send(); }),
      button("Leave it out", async () => { await outbox.remove(each); show(); }));
    if (entry()) choose(waiting);
    document.dispatchEvent(new CustomEvent("waiting", { detail: { waiting, refused } }));
    return waiting;
  };

  const correct = async (refused) => {
    if (refused.page !== location.pathname) {
      sessionStorage.setItem("endfloat-correct", refused.place);
      location.href = refused.page;
      return;
    }
    const form = [...document.querySelectorAll("main form[data-outbox]")].find((each) => each.action === refused.url);
    if (!form) return;
    if (form === entry()) { await outbox.remove(refused); await show(); }
    fill(form, new URLSearchParams(refused.body));
    const details = form.querySelector("details");
    if (details) details.open = true;
    if (form === entry()) form.elements.text.focus();
    else form.scrollIntoView();
  };
  const correct_now = async () => {
    const place = Number(sessionStorage.getItem("endfloat-correct"));
    sessionStorage.removeItem("endfloat-correct");
    const refused = (await outbox.all()).find((each) => each.place === place && each.refused);
    if (refused && refused.page === location.pathname) await correct(refused);
  };
  const fill = (form, typed) => {
    const values = {};
    for (const field of form.elements) {
      if (!field.name || field.type === "hidden" || !typed.has(field.name)) continue;
      const all = typed.getAll(field.name);
      if (["checkbox", "radio"].includes(field.type)) field.checked = all.includes(field.value);
      else field.value = all[values[field.name] = (values[field.name] ?? -1) + 1] ?? "";
    }
  };

  // the next spot, counting what still waits here
  const choose = (waiting) => {
    const form = entry(), spot = form.elements.spot;
    const mine = waiting.filter((each) => each.url === form.action).map((each) => new URLSearchParams(each.body).get("spot"));
    if (!mine.length || !mine.includes(spot.value)) return;
    const open = [...spot.options].find((each) => !each.dataset.taken && !mine.includes(each.value));
    if (open) spot.value = open.value;
    const chosen = spot.selectedOptions[0];
    form.querySelector(".spot").textContent = open
      ? `${chosen.dataset.words} · reading ${spot.selectedIndex + 1} of ${spot.options.length}`
      : "Every spot here is entered; what waits is sent later. A further reading is a repeat.";
    for (const arrow of form.querySelectorAll(".here")) arrow.remove();
  };

  // `direct` is the entry that was made on this page just now: what refuses it is shown here, with what was typed
  let sending = null, once_more = false, adding = 0, direct = 0;
  const send = () => {
    if (sending) once_more = true;
    else sending = deliver().finally(() => { sending = null; });
    return sending;
  };
  const deliver = async () => {
    let last = null;
    try {
      do {
        once_more = false;
        for (const each of (await outbox.all()).filter((one) => !one.refused && mine(one))) {
          const answer = await fetch(each.url, { method: "POST", body: new URLSearchParams(each.body), cache: "no-store", signal: AbortSignal.timeout(A_WHILE) });
          if (answer.status >= 500 || answer.status === 409) throw new Error("no answer");
          const text = await answer.text();
          if (answer.ok) {
            await keep(answer, text);
            await outbox.remove(each);
            if (each.page === location.pathname) last = { text, url: answer.url };
          } else if (each.place === direct) {
            await outbox.remove(each);
            last = { text, url: location.href };
          } else {
            await outbox.put({ ...each, refused: sentence(text) });
          }
        }
      } while (once_more);
      say_away(true);
    } catch {
      say_away(false);
      // It stays on this device; the timer tries again.
    }
    direct = 0;
    if (last) swap(last);
    await show();
  };
  const sentence = (text) => {
    const page = new DOMParser().parseFromString(text, "text/html");
    const told = page.querySelector(".problem[role=alert]") || page.querySelector(".problem");
    return told ? (told.querySelector("p") || told).textContent.trim() : "The record refused it.";
  };
  // the page that an entry led to is the newest that this device has seen
  const keep = async (answer, text) => {
    if (!("caches" in window)) return;
    const kept = await caches.open("endfloat-pages"), page = new URL(answer.url).pathname;
    await kept.delete(page, { ignoreSearch: true });
    await kept.put(page, new Response(text, { headers: answer.headers }));
  };

  const swap = ({ text, url }) => {
    const fresh = new DOMParser().parseFromString(text, "text/html");
    const typing = get("text") ? get("text").value : "";
    for (const part of ["header", "main", "footer"]) {
      const [now, then] = [document.querySelector(`body > ${part}`), fresh.querySelector(`body > ${part}`)];
      if (now && then) now.replaceWith(then);
    }
    const elsewhere = new URL(url).pathname !== location.pathname;
    history[elsewhere ? "pushState" : "replaceState"](null, "", url);
    document.body.dataset.drawn = fresh.body.dataset.drawn || document.body.dataset.drawn;
    document.title = fresh.title;
    furnish();
    if (typing && get("text")) get("text").value = typing;
    const first = document.querySelector("main [autofocus]") || get("text");
    if (first) first.focus({ preventScroll: first.id === "text" });
    else if (elsewhere) scrollTo(0, 0);
    else (document.querySelector("main .problem[role=alert]:not([hidden])") || get("content")).scrollIntoView();
  };

  const submit = async (event) => {
    const form = event.target;
    if (event.defaultPrevented) return;
    event.preventDefault();
    const body = new URLSearchParams(new FormData(form, event.submitter));
    if (form === entry()) {
      if (!body.get("text").trim()) {
        if (!sending && !adding) say(get("waiting"), "Nothing typed yet. Type what the gauge says, or say below why there is no reading.");
        form.elements.text.focus();
        return;
      }
      if (body.get("by")) localStorage.setItem("endfloat-by", body.get("by"));
    }
    const where = body.get("spot") ? `, ${body.get("spot").split("|").filter((word) => word !== "-").join(" ")}` : "";
    const told = event.submitter ? event.submitter.textContent : "";
    const words = body.get("text") ? `\`${body.get("text").trim()}\`, ${form.dataset.place}${where}` : [told, form.dataset.words].filter(Boolean).join(", ");
    const kept = { url: form.action, page: location.pathname, body: body.toString(), words, told, title: form.dataset.words, refused: "" };
    // before anything is awaited: what is typed next is another entry, and a second tap finds nothing to send
    const fields = form === entry() ? form.elements : null;
    if (fields) [fields.key.value, fields.text.value] = [newKey(), ""];
    adding += 1;
    try {
      await leave_out_earlier(kept);
      const place = await outbox.add(kept);
      if (!fields) direct = place;
    } catch {
      if (fields) [fields.key.value, fields.text.value] = [body.get("key"), body.get("text")];
      form.submit();
      return;
    } finally {
      adding -= 1;
    }
    send();
  };

  // what was refused and is now entered anew no longer stands beside it
  const leave_out_earlier = async (kept) => {
    const what = (each) => ["asked", "bolt", "spot", "pass_number"].map((name) => new URLSearchParams(each.body).get(name)).join();
    if (kept.url === entry()?.action) return;
    const same = (each) => each.refused && each.url === kept.url && what(each) === what(kept);
    for (const each of (await outbox.all()).filter(same)) await outbox.remove(each);
  };

  // a gauge types a whole line and Enter, wherever the focus is

  let line = "", at = 0, taken = "", taken_at = 0, giving_back = 0;
  const take = (text, both) => {
    const now = performance.now();
    if (!both && text === taken && now - taken_at < TWICE) {
      const box = get("waiting");
      box.dataset.twice = "yes";
      say(box, `The gauge sent ${text} twice within a third of a second. Counted once.`,
        button("Count both", () => { delete box.dataset.twice; take(text, true); }));
      return;
    }
    [taken, taken_at] = [text, now];
    get("text").value = text;
    entry().requestSubmit();
  };
  document.addEventListener("keydown", (event) => {
    if (!entry() || event.ctrlKey || event.altKey || event.metaKey || event.target.id === "text") return;
    if (event.timeStamp - at > A_PAUSE) line = "";
    clearTimeout(giving_back);
    at = event.timeStamp;
    if (event.key === "Enter") {
      const whole = line;
      line = "";
      if (!A_LINE.test(whole)) return;
      event.preventDefault();
      take(whole.trim(), false);
    } else if (event.key.length === 1) {
      line += event.key;
      if (!/^[\s+\-−]*[\d.,]/.test(line)) return;
      event.preventDefault();
      // what begins like a number and ends in no Enter was typed by hand into a field: it goes there after all
      const field = event.target;
      if (field.matches("input")) giving_back = setTimeout(() => {
        field.setRangeText(line, field.selectionStart, field.selectionEnd, "end");
        line = "";
      }, A_PAUSE);
    }
  }, true);

  // the keypad

  const pad = () => {
    const box = get("keypad"), text = get("text");
    const asked = localStorage.getItem("endfloat-keyboard") !== "own" && matchMedia("(max-width: 819px), (pointer: coarse)").matches;
    const press = (key) => {
      if (key === "Back") text.value = text.value.slice(0, -1);
      else if (key === "+/−") text.value = text.value.startsWith("−") ? text.value.slice(1) : `−${text.value}`;
      else text.value += key;
    };
    box.classList.toggle("full", asked);
    if (!asked) return;
    box.querySelector(".save").textContent = "SAVE & NEXT";
    for (const key of ["7", "8", "9", "Back", "4", "5", "6", "+/−", "1", "2", "3", "0", "."]) {
      const made = button(key, () => press(key));
      made.className = `outlined key${key === "0" ? " nought" : ""}`;
      if (key === ".") made.setAttribute("aria-label", "decimal point");
      box.append(made);
    }
    text.inputMode = "none";
    const off = get("keypad-switch");
    off.hidden = false;
    off.firstElementChild.addEventListener("click", () => {
      localStorage.setItem("endfloat-keyboard", "own");
      for (const made of box.querySelectorAll(".key")) made.remove();
      box.classList.remove("full");
      off.hidden = true;
      text.inputMode = "decimal";
      text.focus();
    });
  };

  const shelter = () => { for (const form of sheltered()) form.addEventListener("submit", submit); };
  const furnish = () => {
    document.dispatchEvent(new Event("drawn"));
    shelter();
    const form = entry();
    if (!form) return;
    for (const each of document.querySelectorAll("main [name=key]")) each.value = newKey();
    if (form.elements.by && !form.elements.by.value) form.elements.by.value = localStorage.getItem("endfloat-by") || "";
    pad();
  };

  const can = () => {
    if (!sheltered().length) return "Nothing can be entered on this page until it answers.";
    return `You can go on${entry() ? " measuring" : ""}; entries are kept on this device.`;
  };
  const alive = async () => {
    let answers = false;
    try {
      answers = (await fetch("/alive", { cache: "no-store", signal: AbortSignal.timeout(4000) })).ok;
    } catch {
      answers = false;
    }
    say_away(answers);
    return answers;
  };
  const say_away = (answers) => {
    if (answers) delete document.body.dataset.away;
    else document.body.dataset.away = "yes";
    const drawn = new Date(document.body.dataset.drawn);
    const clock = `${String(drawn.getHours()).padStart(2, "0")}:${String(drawn.getMinutes()).padStart(2, "0")}`;
    get("away").hidden = answers;
    get("away").textContent = answers ? "" : `Shown as of ${clock}. The workshop computer does not answer. ${can()}`;
  };

  const round = async () => {
    const waiting = await show();
    if (!await alive()) await show();
    else if (waiting.length) await send();
  };

  if (!get("kept")) return;
  furnish();
  document.addEventListener("furnish", shelter);
  correct_now();
  round();
  setInterval(round, AGAIN);
  addEventListener("online", round);
  addEventListener("popstate", () => location.reload());
  addEventListener("pageshow", (event) => { if (event.persisted) furnish(); });
  if ("serviceWorker" in navigator) navigator.serviceWorker.register("/bench-worker.js");
})();
