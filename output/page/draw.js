
// What one case looks like: SVG over a canvas with the temperatures. Lengths are CSS pixels; a view is in millimetres.

const svgNS = "http://www.w3.org/2000/svg";

function svg(name, attributes, ...children) {
  const e = document.createElementNS(svgNS, name);
  for (const k in attributes) e.setAttribute(k, attributes[k]);
  e.append(...children);
  return e;
}

// A rectangle of a colour of its own.
function shaded(colour, attributes) {
  const e = svg("rect", attributes);
  e.style.fill = colour;
  return e;
}

function html(name, properties, ...children) {
  const e = Object.assign(document.createElement(name), properties);
  e.append(...children);
  return e;
}

// A number with a dash for the minus: a hyphen is too short.
const dashed = text => text.replace("-", "\u2013");

// Round values from lo to hi, at most n steps.
function ticks(lo, hi, n) {
  const raw = (hi - lo) / n, unit = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map(m => m * unit).find(s => s >= raw * 0.999), out = [];
  for (let i = Math.ceil(lo / step - 1e-9); i * step <= hi + 1e-9 * step; i++) out.push(+(i * step).toPrecision(12));
  return out;
}

const ruler = document.createElement("canvas").getContext("2d");
function widthOf(text, size) {
  ruler.font = size + "px " + getComputedStyle(document.body).fontFamily;
  return ruler.measureText(text).width;
}

// For each of n pixels from v on, step by step: the sample before it and the share of the way to the next; -1 outside.
function places(samples, v, step, n) {
  const index = new Int32Array(n), share = new Float32Array(n), last = samples.length - 1;
  for (let p = 0, i = 0; p < n; p++, v += step) {
    const at = Math.abs(v);
    while (i > 0 && samples[i] > at) i--;
    while (i < last - 1 && samples[i + 1] <= at) i++;
    index[p] = at > samples[last] ? -1 : i;
    share[p] = Math.min(Math.max((at - samples[i]) / (samples[i + 1] - samples[i]), 0), 1);
  }
  return {index, share};
}

// Paints the temperatures of a section: the view begins at -half and top, both mm.
function paint(canvas, section, palette, half, top, perMM) {
  const w = canvas.width, h = canvas.height, nx = section.x.length, heat = section.heat, first = section.z[0];
  const ctx = canvas.getContext("2d"), image = ctx.createImageData(w, h), out = new Uint32Array(image.data.buffer);
  const x = places(section.x, -half + 0.5 / perMM, 1 / perMM, w);
  const z = places(section.z.map(v => v - first), Math.max(top - first, 0) + 0.5 / perMM, 1 / perMM, h);
  const skip = Math.max(0, Math.round((first - top) * perMM)); // rows above the tissue
  for (let b = skip; b < h; b++) {
    const j = z.index[b - skip], fz = z.share[b - skip];
    if (j < 0) break;
    for (let a = 0; a < w; a++) {
      const i = x.index[a];
      if (i < 0) continue;
      const n = j * nx + i, fx = x.share[a];
      const upper = heat[n] + fx * (heat[n + 1] - heat[n]), lower = heat[n + nx] + fx * (heat[n + nx + 1] - heat[n + nx]);
      out[b * w + a] = palette[Math.round(upper + fz * (lower - upper))];
    }
  }
  ctx.putImageData(image, 0, 0);
}

// Lines of a hatch, in a group drawn at a scale.
function hatch(id, scale, slopes) {
  return svg("pattern", {id, width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: `scale(${1 / scale})`},
    svg("path", {d: slopes.map(s => s > 0 ? "M-2 5L2 9M-1 -1L8 8M5 -2L9 2" : "M-2 2L2 -2M-1 8L8 -1M5 9L9 5").join(""), stroke: "#fff", "stroke-width": 1.1}));
}

// Where the parts of a picture lie, and what is drawn into: gauge(z) is the height of a value, half and bottom are how far
// the section is seen.
function laidOut(picture, file, c, look) {
  const W = Math.max(picture.clientWidth, 200), em = parseFloat(getComputedStyle(picture).fontSize) * 0.88;
  const q = file.quantity, bands = file.walls[c.wall], s = c.section, v = file.view;
  const left = 3.5 * em, strip = 2.2 * em, below = 3 * em;
  const thick = b => b.beyond || q.unit != "mm" ? b.name : `${b.name} ${+(b.to - b.from).toFixed(2)} mm`;
  const widest = f => Math.max(...look.beside.flatMap(n => file.walls[n].map(b => widthOf(f(b), em)))) + em;
  const name = widest(thick) < 0.3 * W ? thick : b => b.name, names = Math.min(widest(name), 0.38 * W);
  const across = s ? W - left - strip - names - 0.6 * em : 0;
  const tallest = Math.max(260, 0.62 * innerHeight), down = v.head + v.depth;
  const scale = s ? Math.min(across / 2 / (across < 24 * em ? v.near : v.half), tallest / down) : 0;
  const H = s ? Math.max(scale * down, 9 * em) : Math.min(tallest, 16 * em);
  const half = across / 2 / scale, top = s ? -v.head : q.unit == "mm" ? -0.05 * q.most : 0;
  // Of the quantity: a depth as in the section, anything else on an axis of its own.
  const gauge = q.unit == "mm" ? (s ? z => (z + v.head) * scale : z => (z - top) / (q.most - top) * H) : z => q.rises ? H - z / q.most * H : z / q.most * H;
  const bottom = s && q.unit == "mm" ? H / scale - v.head : q.most;
  const gx = s ? left + across + 0.6 * em : left;
  const root = svg("svg", {viewBox: `0 0 ${W} ${H + below}`, role: "img", fill: "none", "font-size": em});
  const text = (x, y, words, attributes) => root.append(svg("text", {x, y, ...attributes}, words));
  return {W, H, em, q, bands, s, v, left, strip, below, across, scale, half, gauge, bottom, gx, thick, name, names, root, text};
}

// Draws a case into a picture. look: palette, hidden (nothing of what came out), guess (a value or null), over (the
// case whose line lies over this one, or null), clock (when it is, "": the end), beside (the walls that are shown at one
// scale), id (of the picture, for patterns).
function drawSection(picture, file, c, look) {
  const p = laidOut(picture, file, c, look), {q, s, root} = p;
  const told = p.bands.map(p.thick).join(", ");
  root.setAttribute("aria-label", look.hidden ? `The wall before the current: ${told}. What came out is hidden.`
    : `${s ? "Cross-section " + s.where : "Gauge"}${look.clock ? ` ${look.clock}: ${q.name} ${c.value.toFixed(q.digits)} ${q.unit}.` : ": " + c.verdict} Layers: ${told}.`);
  if (s) drawWall(p, look);
  drawGauge(p);
  drawOutcome(p, c, look);
  picture.replaceChildren(...(s && !look.hidden ? [painted(p, look)] : []), root);
}

// The wall in cross-section, under a frame, with the axis across it.
function drawWall({H, em, q, bands, s, v, left, across, scale, half, bottom, root, text}, look) {
  const clip = "clip" + look.id;
  root.append(svg("defs", {}, svg("clipPath", {id: clip}, svg("rect", {x: 0, y: 0, width: across, height: H})),
    hatch("dried" + look.id, scale, [1]), hatch("carbonised" + look.id, scale, [1, -1])));
  const inside = svg("g", {"clip-path": `url(#${clip})`, transform: `translate(${left} 0)`});
  const mm = svg("g", {transform: `translate(${across / 2} ${v.head * scale}) scale(${scale})`});
  const put = (d, names, more) => { for (const n of names.split(" ")) if (d) mm.append(svg("path", {d, class: n, ...more})); };
  const layers = [...(s.above || []), ...(q.unit == "mm" ? bands : [])];
  if (look.hidden) mm.append(...layers.map(b => shaded(b.shade, {x: -half, y: b.from, width: 2 * half, height: b.to - b.from})));
  for (const b of layers) if (b.from != 0 && b.from < bottom) put(`M${-half} ${b.from}H${half}`, b.beyond ? "outer" : "border");
  put(`M${-half} 0H${half}`, "border");
  put(s.never, "never");
  if (!look.hidden) {
    put(s.dried, "edge", {fill: `url(#dried${look.id})`});
    put(s.carbonised, "edge", {fill: `url(#carbonised${look.id})`});
    put(s.removed, "removed");
    put(s.limit, "under limit");
    if (look.over && look.over.section) put(look.over.section.injury, "under over");
    put(s.injury, "under injury");
  }
  put(s.polyp, "border");
  put(s.start, "start");
  put(s.metal, s.passed ? "passed" : "metal");
  put(s.contact, "contact");
  inside.append(mm);
  root.append(inside, svg("rect", {x: left, y: 0, width: across, height: H, class: "frame"}));
  for (const x of ticks(-half, half, Math.max(4, across / (3 * em)))) {
    const at = left + across / 2 + x * scale;
    root.append(svg("line", {x1: at, x2: at, y1: H, y2: H + 4, class: "axis"}));
    text(at, H + 1.3 * em, String(Math.abs(x)), {"text-anchor": "middle"});
  }
  text(left + across / 2, H + 2.5 * em, s.where == "through the axis" ? "mm from the axis" : "mm from the track", {"text-anchor": "middle", class: "soft"});
}

// A film of a track in section along it: what dies, what is removed and where the electrode is, layer by layer.
function drawAlong(picture, file, c, film, moment) {
  picture.hidden = !film || !film.along;
  if (picture.hidden) return picture.replaceChildren();
  const W = Math.max(picture.clientWidth, 200), em = parseFloat(getComputedStyle(picture).fontSize) * 0.88;
  const {from, to, moments} = film.along, v = file.view, now = moments[moment], left = 3.5 * em;
  const scale = Math.min((W - left - 0.8 * em) / (to - from), 9 * em / (v.head + v.depth)), w = (to - from) * scale, H = (v.head + v.depth) * scale;
  const root = svg("svg", {viewBox: `0 0 ${W} ${H + 3 * em}`, role: "img", fill: "none", "font-size": em});
  root.setAttribute("aria-label", `Along the track after ${film.t[moment].toFixed(2)} s.`);
  root.append(svg("defs", {}, svg("clipPath", {id: "alongside"}, svg("rect", {x: from, y: -v.head, width: to - from, height: v.head + v.depth}))));
  const mm = svg("g", {"clip-path": "url(#alongside)", transform: `translate(${left - from * scale} ${v.head * scale}) scale(${scale})`});
  for (const b of file.walls[c.wall]) mm.append(shaded(b.shade, {x: from, y: Math.max(b.from, 0), width: to - from, height: Math.max(0, Math.min(b.to, v.depth) - Math.max(b.from, 0))}));
  for (const [d, names] of [[now.removed, "removed"], [now.injury, "dies"], [now.metal, "metal"]]) if (d) mm.append(svg("path", {d, class: names}));
  root.append(mm, svg("rect", {x: left, y: 0, width: w, height: H, class: "frame"}));
  for (const x of ticks(from, to, Math.max(4, w / (3 * em)))) {
    const at = left + (x - from) * scale;
    root.append(svg("line", {x1: at, x2: at, y1: H, y2: H + 4, class: "axis"}), svg("text", {x: at, y: H + 1.3 * em, "text-anchor": "middle"}, String(+x.toFixed(2))));
  }
  root.append(svg("text", {x: left + w / 2, y: H + 2.5 * em, "text-anchor": "middle", class: "soft"}, "mm along the track"));
  picture.replaceChildren(root);
}

// The canvas with the temperatures of a section.
function painted({W, H, s, v, left, below, across, scale, half}, look) {
  const canvas = html("canvas"), dots = Math.min(devicePixelRatio || 1, 2);
  canvas.width = Math.round(across * dots);
  canvas.height = Math.round(H * dots);
  paint(canvas, s, look.palette, half, -v.head, scale * dots);
  Object.assign(canvas.style, {left: left / W * 100 + "%", top: 0, width: across / W * 100 + "%", height: H / (H + below) * 100 + "%"});
  return canvas;
}

// The gauge: bands, their names, and the axis of the quantity.
function drawGauge({H, em, q, bands, s, left, strip, gauge, bottom, gx, name, names, root, text}) {
  for (const b of bands) {
    const ends = [gauge(Math.max(b.from, q.unit == "mm" ? 0 : b.from)), gauge(Math.min(b.to, bottom))].sort((a, b) => a - b);
    if (ends[1] - ends[0] < 0.5 || b.from >= bottom) continue;
    root.append(shaded(b.shade, {x: gx, y: ends[0], width: strip, height: ends[1] - ends[0], class: "border"}));
  }
  const labels = bands.filter(b => b.from < bottom).map(b => ({words: name(b), y: (gauge(b.from) + gauge(Math.min(b.to, bottom))) / 2, soft: b.beyond}));
  spread(labels.sort((a, b) => a.y - b.y), 1.15 * em, 0.6 * em, H - 0.2 * em)
    .forEach(b => text(gx + strip + 0.4 * em, b.y + 0.35 * em, fitted(b.words, names - 0.4 * em, em), b.soft ? {class: "soft"} : {}));
  if (!s || q.unit == "mm") {
    const ax = s ? left : gx;
    for (const z of ticks(0, bottom, Math.max(1, Math.abs(gauge(bottom) - gauge(0)) / (2 * em)))) {
      root.append(svg("line", {x1: ax - 4, x2: ax, y1: gauge(z), y2: gauge(z), class: "axis"}));
      text(ax - 6, gauge(z) + 0.35 * em, String(z), {"text-anchor": "end"});
    }
    text(0, 0, `${q.unit == "mm" ? "depth" : q.name} (${q.unit})`, {class: "soft", "text-anchor": "middle", transform: `translate(${em} ${H / 2}) rotate(-90)`});
  }
}

// What came out, or a question mark in its place; and what was guessed.
function drawOutcome({W, H, em, q, s, left, strip, across, gauge, gx, root, text}, c, look) {
  const words = s ? left + across - 0.5 * em : W - 0.3 * em, from = s ? left : gx;
  const level = (value, kind) => root.append(svg("line", {x1: from, x2: gx + strip, y1: gauge(value), y2: gauge(value), class: kind}));
  if (!look.hidden) {
    const y0 = gauge(0), y = gauge(c.value);
    root.append(svg("rect", {x: gx + strip * 0.3, y: Math.min(y0, y), width: strip * 0.4, height: Math.abs(y - y0), class: "bar"}));
    if (q.unit == "mm") level(c.value, "leader");
    // Below the line there is no injury that words could hide.
    const room = words - from - 0.4 * em, said = c.value > 0 ? c.word : "";
    const rows = [[c.value > 0 || q.unit != "mm" ? `${c.value.toFixed(q.digits)} ${q.unit}` : "no injury", 1.25]];
    for (const line of widthOf(said, em) < room ? [said] : said.split(/ (?=to |into |the )/)) if (line) rows.push([line, 1]);
    const high = 1.25 * em * rows.length;
    let row = q.unit != "mm" ? H - 0.6 * em : y + (y + high + 0.3 * em < H ? 1.35 * em : 0.8 * em - high);
    for (const [line, size] of rows) {
      text(words, row, line, {"text-anchor": "end", class: size > 1 ? "big halo" : "halo", "font-size": size * em});
      row += 1.25 * em;
    }
    if (look.over) root.append(svg("line", {x1: gx - 3, x2: gx + strip + 3, y1: gauge(look.over.value), y2: gauge(look.over.value), class: "over"}));
  } else {
    text(s ? left + across / 2 : gx + strip / 2, H * 0.72, "?", {"text-anchor": "middle", class: "big halo", "font-size": 3.4 * em});
  }
  if (look.clock) text(left + 0.5 * em, H - 0.6 * em, look.clock, {class: "halo big"});
  if (look.guess !== null) {
    const y = gauge(look.guess);
    level(look.guess, "guess");
    root.append(svg("path", {d: `M${gx} ${y}l${-0.6 * em} ${-0.4 * em}v${0.8 * em}z`, class: "guessed"}));
    if (look.hidden) text(s ? left + 0.5 * em : gx + strip + 0.9 * em, Math.max(y - 0.4 * em, em), `guess ${look.guess.toFixed(q.digits)} ${q.unit}`, {class: "halo big"});
  }
}

// Moves labels apart that would lie on each other, from the first on, between two ends.
function spread(labels, apart, first, last) {
  for (let n = 0; n < labels.length; n++) labels[n].y = Math.max(labels[n].y, n ? labels[n - 1].y + apart : first);
  for (let n = labels.length - 1, end = last; n >= 0; n--, end = labels[n + 1].y - apart) labels[n].y = Math.min(labels[n].y, end);
  return labels;
}

// Words cut to a width.
function fitted(words, width, size) {
  if (widthOf(words, size) <= width) return words;
  while (words.length > 1 && widthOf(words + "\u2026", size) > width) words = words.slice(0, -1);
  return words + "\u2026";
}

// Draws the time course of a case, over it that of another or null, and a mark at a time or null.
function drawCourse(picture, file, c, over, longest, strongest, clock) {
  const W = Math.max(picture.clientWidth, 200), em = parseFloat(getComputedStyle(picture).fontSize) * 0.88;
  const q = file.quantity, left = 3.5 * em, right = W - 0.8 * em, H = 7.5 * em, gap = 0.9 * em, h = 2.4 * em, all = H + gap + h + 2.7 * em;
  const x = t => left + t / longest * (right - left), y = v => q.rises ? H - v / q.most * H : v / q.most * H, base = H + gap + h;
  const root = svg("svg", {viewBox: `0 0 ${W} ${all}`, role: "img", fill: "none", "font-size": em});
  root.setAttribute("aria-label", `Time course: ${q.name} ends at ${c.value.toFixed(q.digits)} ${q.unit}; the current ended after ${+c.course.off.toFixed(2)} s.`);
  for (const b of file.walls[c.wall]) {
    const ends = [y(Math.max(b.from, 0)), y(Math.min(b.to, q.most))].sort((a, b) => a - b);
    if (ends[1] <= ends[0]) continue;
    root.append(shaded(b.shade, {x: left, y: ends[0], width: right - left, height: ends[1] - ends[0]}));
  }
  const line = (of, kind) => root.append(svg("path", {class: kind, d: "M" + of.course.t.map((t, n) => x(t).toFixed(1) + " " + y(of.course.v[n]).toFixed(1)).join("L")}));
  if (over && over.course) line(over, "over");
  line(c, "curve");
  root.append(svg("path", {class: "power", d: `M${x(0)} ${base}` + c.course.t.map((t, n) => `L${x(t).toFixed(1)} ${(base - c.course.w[n] / strongest * h).toFixed(1)}`).join("") + `L${x(c.course.t.at(-1)).toFixed(1)} ${base}Z`}));
  root.append(svg("rect", {x: left, y: 0, width: right - left, height: H, class: "frame"}), svg("line", {x1: left, x2: right, y1: base, y2: base, class: "axis"}),
    svg("line", {x1: x(c.course.off), x2: x(c.course.off), y1: 0, y2: base, class: "leader"}));
  if (clock !== null) root.append(svg("line", {x1: x(clock), x2: x(clock), y1: 0, y2: base, class: "guess"}));
  const text = (x, y, words, attributes) => root.append(svg("text", {x, y, ...attributes}, words));
  for (const t of ticks(0, longest, (right - left) / (4 * em))) {
    root.append(svg("line", {x1: x(t), x2: x(t), y1: base, y2: base + 4, class: "axis"}));
    text(x(t), base + 1.3 * em, String(t), {"text-anchor": "middle"});
  }
  for (const v of ticks(0, q.most, 4)) text(left - 6, Math.max(y(v) + 0.35 * em, 0.8 * em), String(v), {"text-anchor": "end"});
  text(left - 6, base - h + 0.7 * em, String(+strongest.toPrecision(2)), {"text-anchor": "end"});
  text(left - 6, base, "W", {"text-anchor": "end", class: "soft"});
  text(0, 0, q.unit == "mm" ? "depth (mm)" : `rise (${q.unit})`, {class: "soft", "text-anchor": "middle", transform: `translate(${em} ${H / 2}) rotate(-90)`});
  text((left + right) / 2, base + 2.5 * em, "time (s)", {"text-anchor": "middle", class: "soft"});
  const late = x(c.course.off) + widthOf("current off", em) + em > right;
  text(x(c.course.off) + (late ? -0.4 : 0.4) * em, q.rises ? 1.2 * em : H - 0.5 * em, "current off", {class: "halo", "text-anchor": late ? "end" : "start"});
  picture.replaceChildren(root);
}
