// Live fragments: while somebody types, the server works out what was typed and this script puts the parts that
// changed where they belong. Without it every page works by its buttons.

const pause = 120; // ms after the last key before the server is asked
const calm = 400; // ms after a first plan is shown before a better one is looked for

document.documentElement.classList.add("live");

// Whoever signs in next must not find the time log that was kept here for the one before. What waits to be sent stays:
// it is hours of work, and goes only when its own person signs in again.
if (globalThis.caches && document.querySelector(".door")) for (const name of await caches.keys()) await caches.delete(name);

for (const form of document.querySelectorAll("form[data-live-at]")) follow(form);

for (const place of document.querySelectorAll("[data-told-at]")) hearOut(place);

for (const button of document.querySelectorAll("[data-ask]")) {
  button.addEventListener("click", (event) => {
    if (!confirm(button.dataset.ask)) event.preventDefault();
  });
}

// Control and return sends a form from within a text, by its first button to press.
document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !(event.ctrlKey || event.metaKey) || !event.target.matches?.("textarea")) return;
  event.preventDefault();
  const form = event.target.closest("form"), button = form?.querySelector("button.go");
  if (button) form.requestSubmit(button);
});

// A text is put on the clipboard, and the button says so.
for (const button of document.querySelectorAll("[data-copies]")) {
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(document.getElementById(button.dataset.copies).value);
    button.textContent = button.dataset.done;
  });
}

// A file that is too large is told before it is sent, and what was typed beside it stays.
for (const file of document.querySelectorAll("input[data-most]")) {
  file.addEventListener("click", () => (file.value = "")); // the same file made smaller is another choice
  file.addEventListener("change", () => {
    const large = [...file.files].some((f) => f.size > file.dataset.most * 2 ** 20);
    file.setCustomValidity(large ? `This file is larger than ${file.dataset.most} MB. Choose a smaller one.` : "");
    file.reportValidity();
  });
}

// A form that came back is shown where it needs another look first.
document.querySelector("form:not([data-live-at]) [aria-invalid=true]")?.focus();

// What is pressed twice is sent once: a delivery must not be received twice because the thumb was quick.
for (const form of document.querySelectorAll("form[method=post]:not([data-live-at])")) {
  form.addEventListener("submit", (event) => {
    if (form.dataset.sent) event.preventDefault();
    form.dataset.sent = "yes";
  });
}
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("[data-sent]")) delete form.dataset.sent;
});

// A chosen drawing file is put into its entry as text: it goes the same way as one that was pasted.
for (const chooser of document.querySelectorAll("[data-into]")) {
  chooser.addEventListener("change", async () => {
    const entry = chooser.form.elements[chooser.dataset.into];
    if (!chooser.files.length) return;
    entry.value = await chooser.files[0].text();
    entry.dispatchEvent(new Event("input", { bubbles: true }));
  });
}

function follow(form) {
  let timer, asking, searching;
  const bar = form.querySelector(".search progress"), found = form.querySelector(".search p");
  let unsaved = form.querySelector("[data-unsaved]:not([hidden])") !== null;

  form.addEventListener("input", (event) => {
    if (event.target.form !== form) return; // which view is looked at is no entry
    unsaved = true;
    for (const mark of form.querySelectorAll("[data-unsaved]")) mark.hidden = false;
    clearTimeout(timer);
    still();
    timer = setTimeout(ask, pause);
  });
  form.addEventListener("submit", (event) => {
    if (event.submitter?.matches(".no-script")) { // the return key: all is worked out already
      event.preventDefault();
      return;
    }
    unsaved = false;
  });
  if (priced()) timer = setTimeout(search, calm);
  addEventListener("beforeunload", (event) => { if (unsaved) event.preventDefault(); });

  async function ask() {
    asking?.abort();
    asking = new AbortController();
    form.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.dataset.liveAt, {
        method: "POST",
        body: new URLSearchParams(new FormData(form)),
        headers: { "X-CSRF": form.elements.csrf.value },
        signal: asking.signal,
      });
      if (answer.redirected || !answer.ok) throw new Error(answer.status);
      show(form, await answer.text());
      form.removeAttribute("data-stale");
      if (priced()) timer = setTimeout(search, calm);
    } catch (error) {
      if (error.name === "AbortError") return;
      form.setAttribute("data-stale", ""); // what is shown is not what is typed: the page says so
    }
    form.removeAttribute("aria-busy");
  }

  function priced() {
    return form.dataset.betterAt !== undefined && form.elements.digest !== undefined;
  }

  // still ends the search and takes back what it said: it was about what was typed before.
  function still() {
    searching?.abort();
    if (!bar) return; // nothing is searched for on this page
    bar.hidden = true;
    if (found.textContent) found.textContent = "";
  }

  // search asks for a better plan, line by line, while the first one is shown; without an answer that one stands.
  async function search() {
    still();
    const mine = searching = new AbortController();
    try {
      const answer = await fetch(form.dataset.betterAt, {
        method: "POST",
        body: new URLSearchParams(new FormData(form)),
        headers: { "X-CSRF": form.elements.csrf.value },
        signal: mine.signal,
      });
      if (answer.redirected || !answer.ok) return;
      for await (const told of lines(answer)) hear(told);
    } catch {
      // ended by the next key, or the server went away
    } finally {
      if (searching === mine) bar.hidden = true;
    }

    function hear(told) {
      if (mine.signal.aborted) return;
      bar.hidden = false;
      bar.value = told.spent;
      if (!told.html) return;
      show(form, told.html);
      found.textContent = told.gain;
    }
  }
}

// lines are what an answer tells line by line, as it comes.
async function* lines(answer) {
  const parts = answer.body.pipeThrough(new TextDecoderStream()).getReader();
  for (let rest = "", read = await parts.read(); !read.done; read = await parts.read()) {
    const whole = (rest + read.value).split("\n");
    rest = whole.pop();
    for (const line of whole) yield JSON.parse(line);
  }
}

// hearOut shows how far the server is with what takes a while, then what came of it. Leaving the page gives it up.
async function hearOut(place) {
  const bar = place.querySelector("progress"), said = place.querySelector("[role=status]"), button = place.querySelector("button");
  const asking = new AbortController();
  let over = false;
  addEventListener("pagehide", () => asking.abort());
  button.addEventListener("click", () => asking.abort());
  button.hidden = false;
  try {
    const answer = await fetch(place.dataset.toldAt, { signal: asking.signal });
    if (answer.redirected || !answer.ok) throw new Error(answer.status);
    for await (const told of lines(answer)) {
      bar.value = told.spent;
      if (told.gain) said.textContent = told.gain;
      if (told.html) place.replaceChildren(...new DOMParser().parseFromString(told.html, "text/html").body.childNodes);
      over ||= told.spent === 100;
    }
  } catch {
    // given up, or the server went away
  }
  if (over && !place.contains(bar)) return;
  bar.hidden = button.hidden = true;
  if (!over) said.textContent = asking.signal.aborted ? "Given up. Nothing was changed." : "The server does not answer. Nothing was changed. Load the page again to ask once more.";
}

// opened is what the reader has opened in each place, for when a wrong entry has emptied it for a while.
const opened = new WeakMap();

// show puts every fragment of an answer in its place, keeping what the reader has opened and chosen.
function show(form, html) {
  const answer = new DOMParser().parseFromString(html, "text/html");
  for (const part of answer.querySelectorAll("[data-live]")) {
    const place = form.querySelector(`[data-live="${part.dataset.live}"]`);
    if (!place) continue;
    const old = place.querySelector("figure") !== null && part.querySelector("figure") === null;
    place.classList.toggle("old", old);
    if (old || place.innerHTML === part.innerHTML) continue; // a drawing stays, faded, until there is a new one
    if (place.querySelector("details")) opened.set(place, new Set([...place.querySelectorAll("details[open]")].map((d) => d.id)));
    for (const d of part.querySelectorAll("details")) d.open = opened.get(place)?.has(d.id) ?? false;
    const chosen = place.querySelector("input:checked")?.id;
    place.replaceChildren(...part.childNodes);
    const radio = chosen && document.getElementById(chosen);
    if (radio) radio.checked = true;
  }
  blame(form, new Map([...answer.querySelectorAll("[data-problem]")].map((p) => [p.dataset.problem, p.textContent])));
  const button = form.querySelector("[data-needs-price]");
  if (button) button.disabled = !form.querySelector("[name=digest]");
}

// blame writes what is wrong beside its entry.
function blame(form, problems) {
  for (const note of form.querySelectorAll("[data-wrong]")) {
    const remedy = problems.get(note.dataset.wrong) ?? "";
    note.textContent = remedy;
    const entry = note.closest(".entry");
    entry.classList.toggle("wrong", remedy !== "");
    const input = entry.querySelector("input, select, textarea");
    if (remedy) input.setAttribute("aria-invalid", "true"); else input.removeAttribute("aria-invalid");
    if (remedy) input.setAttribute("aria-describedby", note.id); else input.removeAttribute("aria-describedby");
  }
  for (const section of form.querySelectorAll(".spec details")) {
    section.classList.toggle("has-wrong", section.querySelector(".wrong") !== null);
  }
}
