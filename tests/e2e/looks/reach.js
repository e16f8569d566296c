// What a thumb can hit and an eye can read on the page as it stands. Each look returns its faults as sentences.
(() => {
const shown = (node) => node.checkVisibility({visibilityProperty: true}) && !node.closest(".unseen, [inert]");
const named = (node) => `<${node.tagName.toLowerCase()} class="${node.getAttribute("class") ?? ""}"> `
  + (node.getAttribute("aria-label") ?? node.textContent ?? "").trim().slice(0, 50);

// Targets too small, or too near another. Marks on a drawing stand where the damage is: their list beside it has targets of full
// size. A link in a sentence is as high as its line.
const targets = (least, primary, apart) => {
  const faults = [];

  const inSentence = (node) => node.matches("a") && getComputedStyle(node).display === "inline"
    && [...node.parentElement.childNodes].some((one) => one.nodeType === 3 && /\p{L}/u.test(one.data));
  const found = new Map();
  for (const node of document.querySelectorAll(
    'a[href], button, input:not([type="hidden"]), select, textarea, summary, [role="button"], [role="slider"], label.btn')) {
    if (!shown(node) || node.disabled || node.closest(".wall-layer") || inSentence(node)) continue;
    if (getComputedStyle(node).pointerEvents === "none") continue;
    const label = node.matches('input[type="checkbox"], input[type="radio"], input[type="file"]') ? node.closest("label") : null;
    found.set(label ?? node, (label ?? node).getBoundingClientRect());
  }
  const area = (node) => node.closest("dialog, .page-head, main, .page-actions, nav");
  const all = [...found].filter(([, box]) => box.width > 0 && box.height > 0);
  for (const [node, box] of all) {
    const wanted = node.matches(".btn-primary") ? primary : least;
    if (box.height < wanted - 0.5 || box.width < wanted - 0.5) {
      faults.push(`${box.width.toFixed(0)} x ${box.height.toFixed(0)} px is under ${wanted}: ${named(node)}`);
    }
  }
  for (let i = 0; i < all.length; i += 1) {
    for (let j = i + 1; j < all.length; j += 1) {
      const [[one, a], [other, b]] = [all[i], all[j]];
      if (area(one) !== area(other) || one.contains(other) || other.contains(one)) continue;
      const between = Math.hypot(Math.max(0, a.left - b.right, b.left - a.right), Math.max(0, a.top - b.bottom, b.top - a.bottom));
      if (between < apart - 0.5) faults.push(`${between.toFixed(1)} px apart: ${named(one)} and ${named(other)}`);
    }
  }
  return faults;
};

// Nothing sideways, nothing cut, and what the screen is for in sight without scrolling.
const fit = () => {
  const faults = [];

  if (document.documentElement.scrollWidth > innerWidth) faults.push(`the page is ${document.documentElement.scrollWidth} px wide on ${innerWidth}`);
  for (const box of document.querySelectorAll("main, main *, .page-head, .page-head *, .page-actions, .page-actions *, nav, nav *")) {
    if (box.closest("svg, .wall-frame") || !shown(box)) continue;
    const style = getComputedStyle(box), edge = box.getBoundingClientRect();
    if (edge.width === 0 || box.matches("input, select, option, textarea")) continue;
    if (edge.right > innerWidth + 1 || edge.left < -1) faults.push(`reaches beyond the screen: ${named(box)}`);
    else if (style.overflowX !== "visible" && box.scrollWidth > box.clientWidth + 1) faults.push(`cut or scrolled sideways: ${named(box)}`);
    else if (style.display !== "inline" && style.overflowX === "visible" && box.scrollWidth > box.clientWidth + 1 && box.matches(".btn, .tile, .chip, .badge, nav a")) {
      faults.push(`runs out of its frame: ${named(box)}`);
    }
    if (/hidden|clip/.test(style.overflowY) && box.scrollHeight > box.clientHeight + 1 && box.textContent.trim()) faults.push(`cut below: ${named(box)}`);
  }
  const body = document.querySelector(".page-body"), main = document.querySelector(".page-main");
  if (body) {
    const scrolls = getComputedStyle(body).overflowY === "auto" ? body : main;
    if (scrolls.clientHeight < 96) faults.push(`only ${scrolls.clientHeight} px of height for the screen's own matter`);
    if (matchMedia("(prefers-reduced-motion: reduce)").matches && document.getAnimations().length) faults.push("moves though motion is to be reduced");
  }
  for (const deed of document.querySelectorAll(".page-actions .btn")) {
    const {top, bottom} = deed.getBoundingClientRect();
    if (top < -1 || bottom > innerHeight + 1) faults.push(`out of sight: ${named(deed)}`);
  }
  return faults;
};

// Contrast of each text with what lies behind it; lines and fills of drawings are black or white.
const glare = (least) => {
  const faults = [];

  const pen = document.createElement("canvas").getContext("2d", {willReadFrequently: true});
  const seen = new Map();
  const read = (colour) => {
    if (!seen.has(colour)) {
      pen.clearRect(0, 0, 1, 1); pen.fillStyle = colour; pen.fillRect(0, 0, 1, 1);
      seen.set(colour, [...pen.getImageData(0, 0, 1, 1).data]);
    }
    return seen.get(colour);
  };
  const light = ([r, g, b]) => [r, g, b].map((part) => part / 255)
    .map((part) => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)
    .reduce((sum, part, i) => sum + part * [0.2126, 0.7152, 0.0722][i], 0);
  const contrast = (one, other) => { const [a, b] = [light(one), light(other)].sort((x, y) => y - x); return (a + 0.05) / (b + 0.05); };
  const ground = (node) => {
    for (let on = node; on; on = on.parentElement) {
      const colour = read(getComputedStyle(on).backgroundColor);
      if (colour[3] > 250) return colour;
    }
    return [255, 255, 255, 255];
  };
  const told = new Set();
  const judge = (colour, behind, node, what) => {
    if (colour[3] < 6) return;
    const found = contrast(colour, behind);
    const line = `${what} ${found.toFixed(1)}:1: ${named(node)}`;
    if (found < least && !told.has(line)) { told.add(line); faults.push(line); }
  };
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const on = words.currentNode.parentElement;
    if (!words.currentNode.data.trim() || !on || on.closest("svg, script, style, option") || !shown(on)) continue;
    judge(read(getComputedStyle(on).color), ground(on), on, "text");
  }
  for (const node of document.querySelectorAll("svg *")) {
    if (node.matches("g, defs, pattern, clipPath, title, image, use, mask") || !node.checkVisibility() && !node.closest("pattern")) continue;
    const style = getComputedStyle(node);
    for (const [what, colour, alpha] of [["line", style.stroke, style.strokeOpacity], ["fill", style.fill, style.fillOpacity]]) {
      if (colour === "none" || colour.startsWith("url") || Number(alpha) === 0 || Number(style.opacity) === 0) continue;
      const [r, g, b, a] = read(colour);
      const tone = a * Number(alpha) * Number(style.opacity) / 255;
      const flat = [r, g, b].map((part) => part * tone + 255 * (1 - tone));
      if (a > 0 && contrast(flat, [255, 255, 255]) < least && contrast(flat, [0, 0, 0]) < least) {
        const line = `${what} neither black nor white, ${colour}: ${named(node)} in ${named(node.closest("svg"))}`;
        if (!told.has(line)) { told.add(line); faults.push(line); }
      }
    }
  }
  return faults;
};

return {targets, fit, glare};
})()
