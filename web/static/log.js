// The time log of the bench. What is logged is kept on the phone first, under an id made there, and sent until the
// workshop says that it has it: sent twice it is there once. Without this script the page works by its forms.

const { person, order, title, today, worker } = document.body.dataset;
let { csrf } = document.body.dataset;
const longest = 12 * 60; // minutes: a clock that was forgotten over night is no day of work
const $ = (selector) => document.querySelector(selector);
const groups = new Map([...document.querySelectorAll(".groups label")].map((l) => [l.querySelector("input").value, l.textContent.trim()]));

document.documentElement.classList.add("live");

// uuid is a random id, version 4; an address without TLS has no randomUUID.
function uuid() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  return [...b].map((x, i) => ([4, 6, 8, 10].includes(i) ? "-" : "") + x.toString(16).padStart(2, "0")).join("");
}

// day is the phone's own date.
function day(time = new Date()) {
  return [time.getFullYear(), time.getMonth() + 1, time.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}

// The queue: one entry of the phone's store for each log, so that two tabs never write over each other.

const key = "log.";

function queue() {
  return Object.keys(localStorage).filter((k) => k.startsWith(key)).map((k) => JSON.parse(localStorage.getItem(k) ?? "null")).filter(Boolean)
    .sort((a, b) => a.body.written.localeCompare(b.body.written));
}

function put(entry) {
  localStorage.setItem(key + entry.body.id, JSON.stringify(entry));
}

// log puts time into the queue. It gives false, and says so, where the phone keeps nothing.
function log(at, of, what, body) {
  try {
    put({ person, order: at, title: of, what, body: { id: uuid(), note: "", rework: "", written: new Date().toISOString(), ...body } });
  } catch {
    say("This phone keeps nothing, so this could not be put aside. Press again when there is a net, or write it down.");
    return false;
  }
  draw();
  begin();
  return true;
}

// Sending.

let pause = 0, timer, sending = false;

function begin() {
  pause = 0;
  send();
}

function later() {
  pause = Math.min(60_000, pause * 2 || 2000);
  clearTimeout(timer);
  timer = setTimeout(send, pause * (0.75 + Math.random() / 2));
}

async function send() {
  clearTimeout(timer);
  if (sending) return;
  sending = true;
  try {
    await alone(sendAll);
  } finally {
    sending = false;
  }
  if (mine().length) later();
}

// alone lets one tab send at a time where the browser can tell; else both do, which does no harm.
function alone(work) {
  if (!navigator.locks) return work();
  return navigator.locks.request("time log", { ifAvailable: true }, (lock) => lock && work());
}

function mine() {
  return queue().filter((e) => e.person === person && !e.refused);
}

async function sendAll() {
  let went = false;
  for (const entry of mine()) {
    const answer = await post(entry);
    if (!answer) break;
    went ||= answer === "kept";
  }
  if (went) await renew();
  draw();
}

// post sends one log: "kept", "refused", or nothing where it has to wait.
async function post(entry, again = false) {
  let answer;
  try {
    answer = await fetch(`/api/v1/orders/${entry.order}/time`, {
      method: "POST", headers: { "Content-Type": "application/json", "X-CSRF": csrf }, body: JSON.stringify(entry.body), signal: AbortSignal.timeout(15_000),
    });
  } catch {
    say("");
    return; // no net
  }
  if (answer.ok) {
    localStorage.removeItem(key + entry.body.id);
    say("");
    return "kept";
  }
  if (answer.status === 403 && !again && await renew()) return post(entry, true);
  if (answer.status === 401 || answer.status === 403) return signIn();
  if (answer.status === 429 || answer.status >= 500) return;
  const told = await answer.json().catch(() => ({}));
  entry.refused = (told.problems ?? []).map((p) => p.remedy).join(" ") || told.detail || "The workshop did not take it.";
  put(entry);
  return "refused";
}

// renew fetches the page again: what was logged, and the form token of whoever is signed in now.
async function renew() {
  const answer = await fetch(location.pathname, { signal: AbortSignal.timeout(15_000) }).catch(() => undefined);
  if (!answer?.ok || answer.redirected) return false;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (page.body.dataset.person !== person) {
    location.reload(); // somebody else is signed in: what waits is not theirs to send
    return false;
  }
  const fresh = page.body.dataset.csrf !== csrf;
  csrf = page.body.dataset.csrf;
  for (const token of document.querySelectorAll("[name=csrf]")) token.value = csrf;
  for (const list of ["#logged", "#earlier"]) {
    if ($(`${list} li details[open]`)) continue; // something is corrected just now
    const open = $(`${list} > details`)?.open;
    $(list).replaceChildren(...page.querySelector(list).childNodes);
    if (open) $(`${list} > details`)?.setAttribute("open", "");
  }
  return fresh;
}

function signIn() {
  const link = document.createElement("a");
  link.href = "/sign-in?next=" + encodeURIComponent(location.pathname);
  link.textContent = "Sign in";
  say(link, " to send what waits here. Nothing is lost meanwhile.");
}

function say(...words) {
  $("#net").replaceChildren(...words);
  $("#net").hidden = words.join("") === "";
}

// What is seen.

function draw() {
  const all = queue();
  $("#waiting").hidden = all.length === 0;
  $("#waiting ul").replaceChildren(...all.map((entry) => {
    const row = document.createElement("li"), line = document.createElement("p"), much = document.createElement("b");
    much.textContent = `${entry.body.minutes} min`;
    line.append(much, ` ${entry.what}`, small(entry.title), small(state(entry), entry.refused ? "remedy" : ""));
    row.append(line);
    if (entry.refused) row.append(act("Send again", () => { delete entry.refused; put(entry); begin(); }), act("Throw away", () => localStorage.removeItem(key + entry.body.id)));
    return row;
  }));
  const clock = running();
  $("#phone-clock").hidden = !clock;
  if (clock) {
    $("#phone-clock [data-what]").textContent = clock.what;
    $("#phone-clock [data-since]").textContent = `${clock.title}, since ${new Date(clock.began).toTimeString().slice(0, 5)}: ${minutes(clock)} min`;
  }
}

function state(entry) {
  if (entry.refused) return entry.refused;
  return entry.person === person ? "waiting for the net" : "waits until who logged it signs in again";
}

function small(words, kind = "") {
  const s = document.createElement("small");
  s.textContent = words;
  s.className = kind;
  return s;
}

function act(words, work) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = words;
  button.addEventListener("click", () => { work(); draw(); });
  return button;
}

// The clock of the phone.

const clockKey = `clock.${person}`;

function running() {
  return JSON.parse(localStorage.getItem(clockKey) ?? "null");
}

// minutes are what a clock ran for, whole ones and at least one, as the workshop counts them.
function minutes(clock) {
  return Math.max(1, Math.min(longest, Math.floor((Date.now() - clock.began) / 60_000)));
}

function stop(note = "", rework = "") {
  const clock = running();
  if (!clock || !log(clock.order, clock.title, clock.what, { step: clock.step, minutes: String(minutes(clock)), day: day(new Date(clock.began)), note, rework })) return;
  localStorage.removeItem(clockKey);
  draw();
}

$("[data-stop]").addEventListener("submit", (event) => {
  event.preventDefault();
  stop(event.target.elements.note.value.trim(), event.target.elements.rework.value.trim());
  event.target.reset();
  event.target.querySelector("details").open = false;
});

// The forms, those that come later too.

addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("[data-log]")) return;
  event.preventDefault();
  const typed = Object.fromEntries(new FormData(form));
  if (!typed.step) {
    form.elements.step[0].reportValidity();
    return;
  }
  const what = groups.get(typed.step) ?? typed.step;
  if (event.submitter?.value === "start") {
    stop();
    localStorage.setItem(clockKey, JSON.stringify({ order, title, step: typed.step, what, began: Date.now() }));
    draw();
    $("#phone-clock").scrollIntoView({ block: "center" });
    return;
  }
  const { step, note, rework, corrects } = typed;
  const body = { step, minutes: typed.minutes.trim().replace(",", "."), day: typed.day === today ? day() : typed.day, note: note.trim(), rework: rework.trim() };
  if (corrects) Object.assign(body, { corrects, day: typed.day });
  if (!log(order, title, what, body)) return;
  form.reset();
  for (const opened of [form.closest("details"), ...form.querySelectorAll("details")]) opened?.removeAttribute("open");
  $("#waiting").scrollIntoView({ block: "nearest" });
});

// Material goes off the shelf at the workshop, never on the phone: without a net nothing is taken, and what was typed stays.
$("#material")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const there = await fetch(`/api/v1/orders/${order}/time`, { signal: AbortSignal.timeout(10_000) }).catch(() => undefined);
  if (there) return event.target.submit();
  say("There is no net: nothing was taken off the shelf yet. What you wrote stays; press again when there is one.");
  $("#net").scrollIntoView({ block: "center" });
});

for (const button of document.querySelectorAll("[data-add]")) {
  button.addEventListener("click", () => {
    const entry = $("#f-minutes");
    entry.value = String((parseFloat(entry.value.replace(",", ".")) || 0) + Number(button.dataset.add));
  });
}

addEventListener("online", begin);
addEventListener("storage", async (event) => {
  if (event.key?.startsWith(key) && event.newValue === null) await renew(); // another tab sent it
  draw();
});
document.addEventListener("visibilitychange", () => { if (!document.hidden) begin(); });
setInterval(draw, 20_000);
draw();
begin();

// What the phone keeps, so that this page opens without a net. An address without TLS has no workers.
if (navigator.serviceWorker) {
  await navigator.serviceWorker.register(worker, { scope: "/log" }).then(() => navigator.serviceWorker.ready).then(({ active }) => active.postMessage({
    pages: ["/log", location.pathname, ...[...document.querySelectorAll("[data-keep]")].map((a) => a.pathname)],
    files: [...document.querySelectorAll("link[href^='/static/'], script[src^='/static/']")].map((e) => e.getAttribute("href") ?? e.getAttribute("src")),
  })).catch(() => {}); // it is off, or there is no room: the page still works while it is open
}
