// Looks at a page from inside it and leaves what it saw as JSON in an element of its own. Added to copies of reports only.
"use strict";
const seen = { errors: [] };
addEventListener("error", e => seen.errors.push(e.message || `failed: ${e.target.outerHTML.slice(0, 80)}`), true);
addEventListener("securitypolicyviolation", e => seen.errors.push(`refused: ${e.violatedDirective} ${e.blockedURI}`));
console.error = console.warn = (...words) => seen.errors.push(words.join(" "));

// Of what is hidden in a drawing the browser says that it is visible; but then it takes no room.
const room = e => { const at = e.getBoundingClientRect(); return at.width + at.height > 0; };
const visible = e => e.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) && room(e);
const box = e => e.getBoundingClientRect();
const within = (a, b) => a.left >= b.left - 1 && a.right <= b.right + 1 && a.top >= b.top - 1 && a.bottom <= b.bottom + 1;
const all = (selector, root = document) => [...root.querySelectorAll(selector)];

/// Contrast of two colours: (L1 + 0.05)/(L2 + 0.05), relative luminance of sRGB (WCAG 2.2, definitions).
function contrast(a, b) {
  const light = c => c.slice(0, 3).map(v => v / 255).map(s => s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, k) => sum + v * [0.2126, 0.7152, 0.0722][k], 0);
  const [high, low] = [light(a), light(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}
const numbers = colour => (colour.match(/[\d.]+/g) || []).map(Number);
function ground(e) {
  for (; e; e = e.parentElement) {
    const c = numbers(getComputedStyle(e).backgroundColor);
    if (c.length === 3 || c[3] === 1) return c;
  }
  return [255, 255, 255];
}

/// Contrast of a text of a drawing with the shape that it lies on.
function drawnContrast(text) {
  const ink = numbers(getComputedStyle(text).fill);
  const under = () => { const at = box(text); return document.elementsFromPoint(at.left + at.width / 2, at.top + at.height / 2); };
  let found = under();
  // To scroll to each text takes long: only to what is not in the window.
  if (!found.includes(text)) {
    text.scrollIntoView({ block: "center", inline: "center" });
    found = under();
  }
  const below = found
    .find(e => e !== text && !["text", "tspan"].includes(e.tagName) && e.ownerSVGElement && getComputedStyle(e).fill !== "none"
      // A faint veil hardly changes the ground.
      && Number(getComputedStyle(e).opacity) > 0.5);
  return contrast(ink, below ? numbers(getComputedStyle(below).fill) : [255, 255, 255]);
}

/// Pairs of words of a drawing that stand on each other.
function crossing(texts) {
  const places = texts.map(t => [box(t), t.textContent.trim()]);
  const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4;
  return places.flatMap(([a, words], k) => places.slice(k + 1).filter(p => over(a, p[0])).map(p => `${words} | ${p[1]}`));
}

/// Least contrast of the words of a drawing, and which they are.
function faintestOf(texts) {
  const all = texts.map(t => [drawnContrast(t), t.textContent.trim()]).sort((a, b) => a[0] - b[0]);
  return { faint: all[0]?.[0], faintest: all[0]?.[1] };
}

function figures() {
  return all("figure").map(figure => {
    // Of a wide drawing and a narrow one the window has one.
    const svg = all("svg", figure).find(visible) || figure.querySelector("svg");
    const drawn = box(svg);
    const texts = all("text", svg);
    return {
      visible: visible(svg) && drawn.width > 200 && drawn.height > 100,
      inside: drawn.left >= 0 && drawn.right <= innerWidth + 1 && within(drawn, box(figure)),
      texts: texts.length,
      outside: texts.filter(t => !within(box(t), drawn)).map(t => t.textContent.trim()),
      crossing: crossing(texts),
      ...faintestOf(texts),
    };
  });
}

function faintest() {
  let least = { ratio: 99, text: "" };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || e.closest("svg, script, style") || !visible(e)) continue;
    const ratio = contrast(numbers(getComputedStyle(e).color), ground(e));
    if (ratio < least.ratio) least = { ratio, text: walker.currentNode.data.trim().slice(0, 60) };
  }
  return least;
}

/// What keeps people who listen to a page from it: names, headings, landmarks, ids, tables and boxes that scroll (WCAG 2.2,
/// criteria 1.3.1, 2.1.1, 2.4.1, 2.4.4, 4.1.2; ARIA's names of regions and groups).
function access() {
  const faults = [], short = e => e.outerHTML.slice(0, 80);
  const text = id => document.getElementById(id)?.textContent.trim() || "";
  const named = e => e.getAttribute("aria-label")?.trim()
    || (e.getAttribute("aria-labelledby") || "").split(/\s+/).map(text).join("")
    || (e.labels ? [...e.labels].map(l => l.textContent.trim()).join("") : "")
    || (["A", "BUTTON", "SUMMARY"].includes(e.tagName) ? e.textContent.trim() : "")
    || e.querySelector(":scope > legend, :scope > caption")?.textContent.trim() || "";
  for (const e of all("a[href], button, input, select, textarea, summary, nav, form, fieldset, table, svg[role], main section, [role=region], [role=group], [role=img]"))
    if (!named(e)) faults.push(`without a name: ${short(e)}`);
  let last = 0;
  for (const h of all("h1, h2, h3, h4, h5, h6").filter(visible)) {
    const level = Number(h.tagName[1]);
    if (level > last + 1) faults.push(`heading after level ${last}: ${short(h)}`);
    last = level;
  }
  if (all("h1").length !== 1 || all("main").length !== 1) faults.push("not one h1 and one main");
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (walker.currentNode.data.trim() && !e.closest("main, nav, header, footer, aside, .skip, script, style"))
      faults.push(`outside of every landmark: ${walker.currentNode.data.trim().slice(0, 60)}`);
  }
  const marks = all("main, nav, header, footer, section, [role=region]").map(e => `${e.tagName} ${named(e)}`);
  marks.filter((m, k) => marks.indexOf(m) !== k && !/^(HEADER|FOOTER) $/.test(m)).forEach(m => faults.push(`two of one name: ${m}`));
  const ids = all("[id]").map(e => e.id);
  ids.filter((id, k) => ids.indexOf(id) !== k).forEach(id => faults.push(`an id twice: ${id}`));
  for (const e of all("[aria-labelledby], [aria-describedby]"))
    for (const id of `${e.getAttribute("aria-labelledby") || ""} ${e.getAttribute("aria-describedby") || ""}`.trim().split(/\s+/))
      if (!document.getElementById(id)) faults.push(`names what is not there, ${id}: ${short(e)}`);
  for (const e of all("body *").filter(e => e.scrollWidth > e.clientWidth + 1 && ["auto", "scroll"].includes(getComputedStyle(e).overflowX)))
    if (e.tabIndex < 0) faults.push(`scrolls, but no key reaches it: ${short(e)}`);
  for (const e of all("input, summary, nav a, .take a").filter(visible)) {
    const at = box(e.closest("label") || e);
    // WCAG 2.2, 2.5.8: 24 px, or as much room; links in running text are excepted.
    if (e.tagName === "INPUT" && at.height < 24) faults.push(`too small a target: ${short(e)}`);
  }
  return faults;
}

/// Of marks that say something, how many do so to a pointer at their middle, by figure.
function hovers() {
  return all("figure").map(figure => {
    const svg = all("svg", figure).find(visible);
    if (!svg) return { said: 0, of: 0 };
    const says = e => [...e.children].find(c => c.tagName === "title" && c.textContent.trim());
    const groups = all("g", svg).filter(says).slice(0, 60);
    const points = mark => {
      const at = box(mark), middle = { x: (at.left + at.right) / 2, y: (at.top + at.bottom) / 2 };
      if (mark.tagName === "rect" || getComputedStyle(mark).fill !== "none") return [middle];
      const on = share => mark.getPointAtLength(mark.getTotalLength() * share).matrixTransform(mark.getScreenCTM());
      return [0.3, 0.7].map(on);
    };
    const said = groups.filter(g => all("polyline, polygon, rect, circle, path, line", g).slice(0, 4).some(mark => {
      mark.scrollIntoView({ block: "center", inline: "center" });
      return points(mark).some(at => {
        for (let e = document.elementFromPoint(at.x, at.y); e && e !== svg; e = e.parentElement) if (says(e)) return true;
        return false;
      });
    }));
    return { said: said.length, of: groups.length };
  });
}

function switches() {
  const shown = selector => all(selector).filter(visible).length;
  const state = () => ({ c: shown(".c"), f: shown(".f") });
  const scales = {};
  for (const name of ["celsius", "fahrenheit", "both"]) {
    const choice = document.getElementById(`scale-${name}`);
    if (choice) { choice.click(); scales[name] = state(); }
  }
  // Every change of a box lays out the whole page anew: each is cleared while those before it stay clear, then all are set again.
  const checks = all("input[type=checkbox]");
  const first = checks.map((_, k) => shown(`.of-${k}`));
  const hidden = checks.map((check, k) => {
    const before = shown(`.of-${k}`), drawn = shown(`figure .of-${k}`);
    check.click();
    return { first: first[k], before, drawn, after: shown(`.of-${k}`) };
  });
  checks.forEach(check => check.click());
  hidden.forEach((state, k) => { state.again = shown(`.of-${k}`); });
  return { scales, hidden };
}

addEventListener("load", () => {
  // What a reader sees who opens nothing: the end of the last section that is open and no list of cautions.
  const open = all("main > section").filter(s => !s.querySelector("details") && !/Cautions/.test(s.textContent.slice(0, 9)));
  seen.screens = Math.max(...open.map(s => box(s).bottom + scrollY)) / innerHeight;
  all("details").forEach(d => { d.open = true; });
  seen.requests = performance.getEntriesByType("resource").map(r => r.name);
  seen.wider = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  seen.figures = figures();
  seen.faintest = faintest();
  seen.dark = matchMedia("(prefers-color-scheme: dark)").matches;
  seen.access = access();
  seen.hovers = hovers();
  seen.switches = switches();
  seen.unreachable = all("a[href], input, [tabindex]")
    .filter(e => { e.focus(); return document.activeElement !== e; }).map(e => e.outerHTML.slice(0, 80));
  const left = document.createElement("pre");
  left.id = `seen-${name}`;
  left.textContent = JSON.stringify(seen);
  // Of a frame of some width the page around it is what the browser prints.
  (parent === window ? document : parent.document).body.append(left);
});
