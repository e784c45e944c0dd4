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
  text.scrollIntoView({ block: "center", inline: "center" });
  const at = box(text);
  const below = document.elementsFromPoint(at.left + at.width / 2, at.top + at.height / 2)
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

function switches() {
  const shown = selector => all(selector).filter(visible).length;
  const state = () => ({ c: shown(".c"), f: shown(".f") });
  const scales = {};
  for (const name of ["celsius", "fahrenheit", "both"]) {
    const choice = document.getElementById(`scale-${name}`);
    if (choice) { choice.click(); scales[name] = state(); }
  }
  const hidden = all("input[type=checkbox]").map((check, k) => {
    const before = shown(`.of-${k}`), drawn = shown(`figure .of-${k}`);
    check.click();
    const after = shown(`.of-${k}`);
    check.click();
    return { before, drawn, after, again: shown(`.of-${k}`) };
  });
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
  seen.switches = switches();
  seen.unreachable = all("a[href], input, [tabindex]")
    .filter(e => { e.focus(); return document.activeElement !== e; }).map(e => e.outerHTML.slice(0, 80));
  const left = document.createElement("pre");
  left.id = "seen";
  left.textContent = JSON.stringify(seen);
  document.body.append(left);
});
