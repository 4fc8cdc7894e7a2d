
// The page: what is chosen, kept, guessed and hidden.

const $ = id => document.getElementById(id);

// The data of the file: see the comment on the Go package.
async function unpack(text) {
  const packed = Uint8Array.from(atob(text), c => c.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  const length = new DataView(bytes.buffer).getUint32(0, true), file = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
  let at = 4 + length;
  const palette = new Uint32Array(256), colours = new Uint8Array(palette.buffer);
  for (let n = 0; n < 256; n++, at += 3) colours.set([bytes[at], bytes[at + 1], bytes[at + 2], 255], 4 * n);
  for (const c of file.cases) {
    if (!c.section) continue;
    const width = c.section.x.length;
    for (const section of [c.section, ...(c.film ? c.film.moments : [])]) {
      const heat = bytes.slice(at, at + width * c.section.z.length);
      for (let n = width; n < heat.length; n++) heat[n] += heat[n - width];
      section.heat = heat;
      at += heat.length;
    }
  }
  return {file, palette};
}

// What gets a case that is not there, where there is somebody to ask: see live.js.
let missing = null;

// Everything that changes is in the variables of start.
function start({file, palette}) {
  const {choices} = file;
  let cases, q, longest, strongest;
  let now = 0, at = file.cases[0].at, kept = -1, revealed = false, guess = null, moment = null, player = 0; // at: the levels that the controls show; moment: of a film; null: the end
  const hidden = () => $("ask").checked && !revealed;

  // The controls of the choices. Each has show(level), which sets it.
  const controls = choices.map((choice, n) => {
    const box = choice.words && choice.levels.length <= 8 ? radios(choice, n) : slider(choice, n);
    $("choices").append(box.element);
    return box;
  });

  function slider(choice, n) {
    const id = "choice" + n, last = choice.levels.length - 1, output = html("output");
    output.setAttribute("for", id);
    const input = html("input", {type: "range", id, min: 0, max: last, step: 1});
    input.addEventListener("input", () => choose(n, +input.value, false));
    input.addEventListener("change", () => { if (missing) choose(n, +input.value, true); });
    const label = html("label", {htmlFor: id}, choice.title + ": ", output), ends = html("div", {className: "ends"}, html("span", {}, choice.words ? "" : choice.levels[0]), html("span", {}, choice.words ? "" : choice.levels[last]));
    return {element: html("div", {className: "choice"}, label, input, ends), show: l => {
      input.value = l;
      output.value = choice.levels[l] ?? "";
      input.setAttribute("aria-valuetext", choice.levels[l] ?? "");
    }};
  }

  function radios(choice, n) {
    const inputs = choice.levels.map((l, i) => {
      const input = html("input", {type: "radio", name: "choice" + n, value: i});
      input.addEventListener("change", () => choose(n, i, true));
      return input;
    });
    const labels = inputs.map((input, i) => html("label", {}, input, choice.levels[i]));
    return {element: html("fieldset", {className: "radios"}, html("legend", {}, choice.title), ...labels), show: l => inputs.forEach((input, i) => { input.checked = i == l; })};
  }

  // Goes to the computed case with that level which is nearest to what is chosen otherwise. What is missing is asked
  // for once the control is let go.
  function choose(n, level, letGo) {
    if (missing) {
      wish(at.with(n, level), letGo);
      return;
    }
    const from = cases[now].at;
    let best = -1, least = Infinity;
    cases.forEach((c, i) => {
      if (c.at[n] != level) return;
      const far = c.at.reduce((sum, l, k) => k == n || l == from[k] ? sum : sum + 1e3 + Math.abs(l - from[k]), 0);
      if (far < least) [best, least] = [i, far];
    });
    if (best < 0) { // no case of this level came out
      controls[n].show(from[n]);
      note(`${choices[n].levels[level]} was not computed.`);
      return;
    }
    const moved = choices.filter((_, k) => k != n && cases[best].at[k] != from[k]).map((c, k) => c.title);
    if (best != now) [now, revealed] = [best, false];
    stop();
    moment = null;
    at = cases[now].at;
    draw();
    note(moved.length ? `That combination was not computed: ${moved.join(", ")} moved to the nearest that was.` : "");
  }

  // Shows some levels, and asks for what is missing of them.
  function wish(levels, letGo) {
    missing.stop();
    stop();
    moment = null;
    at = levels;
    controls.forEach((control, n) => control.show(at[n]));
    const there = cases.findIndex(c => c.at.every((l, n) => l == at[n]));
    if (there >= 0) {
      if (there != now) [now, revealed] = [there, false];
      draw();
      note("");
    } else if (letGo) {
      missing.get(at, cases.length, (grown, from) => {
        palette = grown.palette;
        file = {...grown.file, cases: [...cases.slice(0, from), ...grown.file.cases]};
        measure();
        wish(at, false);
      }, words => {
        at = cases[now].at;
        draw();
        note(words);
      });
    }
  }

  // What follows from the data.
  function measure() {
    ({cases, quantity: q} = file);
    const timed = cases.filter(c => c.course);
    longest = Math.max(...timed.map(c => c.course.t.at(-1)));
    strongest = Math.max(1e-9, ...timed.flatMap(c => c.course.w));
    $("keep").hidden = cases.length == 1;
    $("guess").step = 10 ** Math.floor(Math.log10(q.most / 50));
    $("guess").max = q.most;
  }

  const steps = () => missing ? `${cases.length} computed so far; any other is computed when the control is let go.`
    : cases.length > 1 ? `Each step is one of ${cases.length} computed cases; nothing between them is shown.` : "";
  function note(words) {
    $("step").textContent = words || steps();
    $("status").textContent = (words ? words + " " : "") + (hidden() ? `${cases[now].name}. What came out is hidden.` : `${cases[now].name}. ${cases[now].verdict}`);
  }

  // A pane for a case; hides is whether what came out of it is hidden, over the case whose line lies over it.
  function pane(n, head, hides, over) {
    const c = cases[n], picture = html("div", {className: "picture section"}), course = html("div", {className: "picture course"}), track = html("div", {className: "picture track"});
    const words = html("div", {className: "words"});
    if (!hides) {
      words.append(html("p", {className: "verdict"}, c.verdict));
      if (guess !== null && n == now && $("ask").checked) words.append(html("p", {className: "against"}, judged(c)));
      if (over) words.append(html("p", {className: "against"}, against(c, over)));
      words.append(html("p", {className: "told"}, c.delivered + " " + c.why));
      if (c.marks) words.append(html("p", {className: "marks"}, c.marks));
      if (!c.section) words.append(html("p", {className: "note"}, "No cross-section was kept for this setting."));
    }
    const article = html("article", {className: "pane"}, html("h2", {}, (head ? head + ": " : "") + (c.name || document.title)), html("p", {className: "set"}, c.set), picture, words, ...(c.course && !hides ? [course] : []), track);
    article.setAttribute("aria-label", head || "Shown");
    return {article, wall: c.wall, fill: () => {
      const film = n == now && moment !== null && !hides ? c.film : null;
      const then = film ? {...c, section: {...c.section, ...film.moments[moment], where: film.where, passed: false}, value: film.v[moment], word: ""} : c;
      drawSection(picture, file, then, {palette, clock: film ? `after ${film.t[moment].toFixed(2)} s${film.where == "through the axis" ? "" : ", mid-track"}` : "", hidden: hides, over, guess: n == now && $("ask").checked ? guess : null, beside: panes.map(p => p.wall), id: n == now && !head.startsWith("Kept") ? "now" : "kept"});
      drawAlong(track, file, c, film, film ? moment : 0);
      if (c.course && !hides) drawCourse(course, file, c, over, longest, strongest, film ? film.t[moment] : null);
    }};
  }

  const signed = (v, digits) => { const t = v.toFixed(digits); return dashed(+t > 0 ? "+" + t : +t == 0 ? t.replace("-", "") : t); };
  function against(c, over) {
    let words = `Against the kept one: ${q.unit == "mm" ? "depth" : q.name} ${signed(c.value - over.value, q.digits)} ${q.unit}`;
    if (c.margin != null && over.margin != null) words += `, margin ${signed(c.margin - over.margin, 2)} mm`;
    if (c.energy != null && over.energy != null) words += `, energy ${signed(c.energy - over.energy, 1)} J`;
    return words + ".";
  }
  function judged(c) {
    const off = +(c.value - guess).toFixed(q.digits), more = q.unit == "mm" ? ["deeper", "less deep"] : ["more", "less"];
    return `Guess ${guess.toFixed(q.digits)} ${q.unit}: ` + (off == 0 ? "just that was computed." : `${Math.abs(off).toFixed(q.digits)} ${q.unit} ${more[off > 0 ? 0 : 1]} was computed.`);
  }

  let panes = [];
  function draw() {
    controls.forEach((control, n) => control.show(at[n]));
    const two = kept >= 0 && kept != now;
    panes = two ? [pane(kept, "Kept", false, null), pane(now, "Now", hidden(), cases[kept])] : [pane(now, kept == now ? "Kept" : "", hidden(), null)];
    $("panes").className = two ? "two" : "one";
    $("panes").replaceChildren(...panes.map(p => p.article));
    panes.forEach(p => p.fill());
    $("keep").setAttribute("aria-pressed", kept >= 0);
    $("keep").textContent = kept < 0 ? "Keep this one" : kept == now ? "Kept: let it go" : "Let the kept one go";
    $("guessing").hidden = !hidden();
    const film = cases[now].film;
    $("film").hidden = !film || hidden();
    if (film) {
      $("moment").max = film.t.length;
      $("moment").value = moment ?? film.t.length;
      $("when").value = moment === null ? "all of it" : film.t[moment].toFixed(2) + " s";
      $("moment").setAttribute("aria-valuetext", $("when").value);
    }
    $("all").hidden = $("ask").checked;
    $("keep").disabled = hidden() && kept < 0; // it would show what is asked for
    key();
  }

  // The key: what occurs in the drawings, and the scale of temperature.
  function key() {
    const list = panes.length > 1 ? [cases[kept], cases[now]] : [cases[now]], seen = list.filter((c, n) => c.section && !(hidden() && n == list.length - 1)).map(c => c.section);
    const sample = (...drawn) => svg("svg", {viewBox: "0 0 40 16", fill: "none", "aria-hidden": "true"}, ...drawn);
    const patch = (id, slopes) => sample(svg("defs", {}, hatch(id, 1, slopes)), svg("rect", {width: 40, height: 16, fill: "#160b26"}), svg("rect", {width: 40, height: 16, fill: `url(#${id})`}));
    const line = kind => sample(svg("path", {d: "M0 8H40", class: kind}));
    const entries = [], entry = (drawn, words) => entries.push(html("li", {}, drawn, words));
    if (seen.length) {
      const bar = html("canvas", {width: 256, height: 1}), ctx = bar.getContext("2d"), image = ctx.createImageData(256, 1);
      new Uint32Array(image.data.buffer).set(palette);
      ctx.putImageData(image, 0, 0);
      bar.setAttribute("aria-hidden", "true");
      entries.push(html("li", {}, file.heat.low + " ", bar, ` ${file.heat.high}${file.heat.hotter ? " or hotter" : ""}: ${moment === null ? file.heat.name : file.heat.name.replace(/^(peak|highest) /, "")}`));
    }
    if (seen.some(s => s.injury)) entry(line("injury"), "dies within a day");
    if (panes.length > 1 && !hidden()) entry(line("over"), "the same of the kept one");
    if (seen.some(s => s.dried)) entry(patch("keyDried", [1]), "dried");
    if (seen.some(s => s.carbonised)) entry(patch("keyCarbonised", [1, -1]), "carbonised");
    if (seen.some(s => s.removed)) entry(sample(svg("rect", {x: 1, y: 1, width: 38, height: 14, class: "removed"})), "removed");
    if (seen.some(s => s.limit)) entry(line("limit"), "rise of 6 K");
    if (list.some(c => c.section)) entry(sample(svg("rect", {x: 1, y: 1, width: 38, height: 14, class: list.some(c => c.section && c.section.passed) ? "passed" : "metal"})), "electrode" + (list.some(c => c.section && c.section.passed) ? " (dashed: as it passed)" : ""));
    $("key").replaceChildren(...entries);
  }

  measure();
  $("keep").addEventListener("click", () => { kept = kept < 0 ? now : -1; draw(); note(""); });
  $("ask").addEventListener("change", () => { stop(); moment = null; revealed = false; guess = $("ask").checked ? +$("guess").value : null; draw(); note(""); });
  $("reveal").addEventListener("click", () => { revealed = true; draw(); note(""); $("ask").focus(); });
  // The film: scrubbed, or played moment by moment.
  const to = n => { moment = n >= cases[now].film.t.length ? null : n; draw(); };
  function stop() {
    clearInterval(player);
    player = 0;
    $("play").textContent = "Play";
  }
  $("moment").addEventListener("input", () => { stop(); to(+$("moment").value); });
  $("play").addEventListener("click", () => {
    if (player) return stop();
    to(moment === null ? 0 : moment);
    $("play").textContent = "Pause";
    player = setInterval(() => {
      if (moment === null || hidden()) return stop();
      to(moment + 1);
    }, 150);
  });
  $("play").hidden = matchMedia("(prefers-reduced-motion: reduce)").matches; // the slider does it too
  const aim = () => {
    guess = +$("guess").value;
    $("guessed").value = `${guess.toFixed(q.digits)} ${q.unit}`;
    $("guess").setAttribute("aria-valuetext", $("guessed").value);
  };
  $("guess").value = q.most / 4;
  $("guess").addEventListener("input", () => { aim(); panes.at(-1).fill(); });
  aim();
  guess = null;
  $("ask").checked = false; // browsers remember it
  $("controls").hidden = $("shown").hidden = false;
  draw();
  note("");
  let width = innerWidth;
  addEventListener("resize", () => { if (innerWidth != width) { width = innerWidth; panes.forEach(p => p.fill()); } });
}

unpack($("data").textContent).then(start).catch(e => {
  $("step").textContent = "This browser cannot show the drawings (" + e.message + "). The table below has the numbers.";
  $("controls").hidden = $("all").hidden = false;
});
