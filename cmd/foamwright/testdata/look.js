// What can be found out about a page by looking at it: gives a list of what is wrong with it.
// Rules of WCAG 2.2 by their numbers; contrast and relative luminance as its definitions give them.
(() => {
  const wrong = [];
  const all = (selector, from = document) => [...from.querySelectorAll(selector)];
  const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getClientRects().length > 0;
  const name = (e) => e.outerHTML.replace(/\s+/g, " ").slice(0, 90);
  const words = (e) => (e.getAttribute("aria-label") ?? e.textContent ?? "").trim();

  // 1.4.10 Reflow: nothing to scroll sideways for.
  const page = document.scrollingElement, width = Math.ceil(document.body.getBoundingClientRect().width);
  if (page.scrollWidth > Math.min(page.clientWidth, width)) {
    const over = all("body *").filter((e) => seen(e) && e.getBoundingClientRect().right > width + 0.5).slice(0, 3).map(name);
    wrong.push(`is ${page.scrollWidth} wide on ${width}: ${over.join(" and ")}`);
  }
  // Words that are cut off or lie upon each other in a box of their own.
  for (const e of all("button, .button, h1, h2, label > span, th, data, select")) {
    if (seen(e) && !e.closest(".unseen") && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline") wrong.push(`cuts off ${name(e)}`);
  }

  // 3.1.1, 2.4.2, 1.3.1: language, title, one heading, landmarks, ids.
  if (document.documentElement.lang !== "en") wrong.push("has no language");
  if (!document.title.trim()) wrong.push("has no title");
  if (all("h1").length !== 1) wrong.push(`has ${all("h1").length} main headings`);
  for (const landmark of ["header", "main#main", ".skip[href='#main']"]) if (all(landmark).length !== 1) wrong.push(`has no ${landmark}`);
  const ids = all("[id]").map((e) => e.id);
  for (const id of new Set(ids.filter((id, i) => ids.indexOf(id) !== i))) wrong.push(`has ${id} twice`);
  for (const e of all("[aria-describedby], label[for]")) {
    const id = e.getAttribute("aria-describedby") ?? e.htmlFor;
    if (!document.getElementById(id)) wrong.push(`points to ${id}, which is not there`);
  }
  for (const e of all("a[href^='#']")) if (!document.querySelector(e.getAttribute("href"))) wrong.push(`links to ${e.getAttribute("href")}, which is not there`);

  // 4.1.2, 3.3.2: names of what can be used.
  for (const e of all("input:not([type=hidden]), select, textarea")) {
    if (![...(e.labels ?? [])].some((l) => l.textContent.trim()) && !e.getAttribute("aria-label")) wrong.push(`has an entry without a label: ${name(e)}`);
  }
  for (const e of all("button, a[href], summary")) if (!words(e)) wrong.push(`has something to press without a name: ${name(e)}`);
  for (const e of all("svg")) if (!e.closest("[aria-hidden=true]") && (e.getAttribute("role") !== "img" || !words(e))) wrong.push("has a picture without words");
  for (const e of all("nav, section, aside, form[role]")) if (all(e.tagName.toLowerCase()).length > 1 && e.tagName === "NAV" && !e.getAttribute("aria-label")) wrong.push(`has a region without a name: ${name(e)}`);

  // 2.5.8: 24 pixels to hit, but for links in a sentence.
  for (const e of all("button, select, textarea, summary, input:not([type=hidden], [type=checkbox], [type=radio])")) {
    if (seen(e) && !e.closest(".unseen") && e.getBoundingClientRect().height < 24) wrong.push(`has something small to hit: ${name(e)} ${e.getBoundingClientRect().height}`);
  }

  // 1.4.3: contrast of every text with what lies behind it.
  const numbers = (colour) => { const [r, g, b, a = 1] = colour.match(/[\d.]+/g).map(Number); return [r, g, b, a]; };
  const over = (top, below) => top.slice(0, 3).map((v, i) => v * top[3] + below[i] * (1 - top[3])).concat(1);
  const light = (c) => [0.2126, 0.7152, 0.0722].reduce((sum, share, i) => { const v = c[i] / 255; return sum + share * (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); }, 0);
  const once = (work) => { // each element is asked once: many texts have the same ones around them
    const known = new Map();
    return (e) => known.get(e) ?? known.set(e, work(e)).get(e);
  };
  const behind = once((e) => e ? over(numbers(getComputedStyle(e).backgroundColor), behind(e.parentElement)) : [255, 255, 255, 1]);
  const opaque = once((e) => e ? Number(getComputedStyle(e).opacity) * opaque(e.parentElement) : 1);
  const under = (e) => { // what a text of a picture stands on: the picture's ground where it is painted in one colour
    const ground = e.closest("svg").querySelector(".ground");
    const fill = ground ? getComputedStyle(ground).fill : "none";
    return fill.startsWith("rgb") ? numbers(fill) : behind(e);
  };
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const bad = new Set();
  while (texts.nextNode()) {
    const e = texts.currentNode.parentElement;
    if (!texts.currentNode.textContent.trim() || !seen(e) || e.closest(".unseen, .skip, :disabled, title, desc, option")) continue;
    const style = getComputedStyle(e), inPicture = e.closest("svg") !== null;
    const back = inPicture ? under(e) : behind(e);
    let front = numbers(inPicture ? style.fill : style.color);
    front[3] *= opaque(e);
    front = over(front, back);
    const [a, b] = [light(front), light(back)].sort((x, y) => y - x);
    const ratio = (a + 0.05) / (b + 0.05), size = parseFloat(style.fontSize);
    if (ratio < (size >= 24 || size >= 18.7 && style.fontWeight >= 700 ? 3 : 4.5)) bad.add(`${ratio.toFixed(2)}:1 is too faint: ${e.tagName}.${e.className.baseVal ?? e.className} ${e.textContent.trim().slice(0, 30)}`);
  }
  for (const e of all("input[placeholder]")) {
    const style = getComputedStyle(e, "::placeholder"), back = behind(e), front = numbers(style.color);
    front[3] *= Number(style.opacity);
    const [a, b] = [light(over(front, back)), light(back)].sort((x, y) => y - x);
    if ((a + 0.05) / (b + 0.05) < 4.5) bad.add(`${((a + 0.05) / (b + 0.05)).toFixed(2)}:1 is too faint: placeholder`);
  }
  return wrong.concat([...bad].slice(0, 6));
})()
