// The time log without a net: keeps its pages and the files they need, and nothing else. Pages come fresh from the
// workshop whenever it answers in time; no price is on them.

const store = "time log";
const patience = 4000; // ms before the page that was kept is shown

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== location.origin) return;
  if (pathname.startsWith("/static/")) event.respondWith(file(event.request));
  else if (mode === "navigate" && isLog(pathname)) event.respondWith(page(event, pathname));
});

// A page tells what is to be kept for it: itself, the orders of its list, its files.
addEventListener("message", (event) => event.waitUntil(keep(event.data.pages.filter(isLog), event.data.files)));

function isLog(pathname) {
  return /^\/log(\/[0-9a-f-]{36})?$/.test(pathname);
}

// whole tells a page of ours from the way to the sign-in page or a failure.
function whole(answer) {
  return answer.ok && answer.type === "basic" && !answer.redirected;
}

async function file(request) {
  return (await (await caches.open(store)).match(request)) ?? fetch(request);
}

async function page(event, pathname) {
  const kept = await caches.open(store);
  const old = (await kept.match(pathname)) ?? (await kept.match("/log"));
  const fresh = fetch(event.request).then(async (answer) => {
    if (whole(answer)) await kept.put(pathname, answer.clone());
    return answer;
  });
  event.waitUntil(fresh.catch(() => {}));
  if (!old) return fresh;
  const late = new Promise((resolve) => setTimeout(resolve, patience, old));
  return Promise.race([fresh.then((answer) => (answer.status < 500 ? answer : old)), late]).catch(() => old);
}

const young = 5 * 60_000; // ms: a page as new as that is not asked for again

async function keep(pages, files) {
  const kept = await caches.open(store);
  for (const request of await kept.keys()) {
    const { pathname, search } = new URL(request.url);
    if (![...pages, ...files].includes(pathname + search)) await kept.delete(request);
  }
  for (const path of [...files, ...pages]) {
    const old = await kept.match(path);
    if (old && (files.includes(path) || Date.now() - Date.parse(old.headers.get("Date")) < young)) continue;
    const answer = await fetch(path).catch(() => undefined);
    if (!answer) return; // no net: what is kept stays
    if (whole(answer)) await kept.put(path, answer);
    else if (answer.status < 500) await kept.delete(path);
  }
}
