// What the reader of one player's page asks: sums and counts of strokes as played. Nothing is
// estimated here. It stands in one function with page.js, whose charts it asks for.
function asking({ rounds, rows, notes, words, said, lengths, headings, guarded, text }) {
  const NAMES = ["since", "until", "event", "lie", "club", "part"];
  const MOST = 200;
  const ROOM = 30;
  const PAUSE = 80; // milliseconds for which a brush rests before the page follows it
  const SUMS = "chosen-chart";
  const bar = find(".choose");
  const drawer = find(".drawer");
  const inputs = new Map(NAMES.map((name) => [name, bar.querySelector(`[name=${name}]`)]));
  const played = rounds.map(([date, number, event, holes]) => ({
    date, number, holes, event: words.event[event],
  }));
  const all = rows.map((row, id) => {
    const [round, hole, shot, lie, yards, part, band, club, end, left, penalty, gained] = row;
    return {
      id, hole, shot, yards, left, penalty, gained, round: played[round], number: played[round].number,
      date: played[round].date, event: played[round].event, lie: words.lie[lie],
      part: words.part[part], band: words.band[band], club: words.club[club],
      end: words.lie[end], note: notes[id],
    };
  });
  const inZone = all.filter((stroke) => stroke.part);
  const wanting = (value) => new URLSearchParams(
    NAMES.map((name) => [name, value(name)]).filter(([, wanted]) => wanted),
  );
  let choice = wanting(() => "");
  let now = { list: [], parts: [] };
  let opens = null;
  let bestFirst = false;
  let opener = null;

  const fill = (key, values) => text[key].replace(/\{(\w+)\}/g, (_, name) => values[name]);
  const count = (n, noun) => fill(n === 1 ? noun : `${noun}s`, { n: n.toLocaleString("en") });
  const digits = (value, places, sign) =>
    new Intl.NumberFormat("en", {
      minimumFractionDigits: places, maximumFractionDigits: places, useGrouping: false,
      roundingMode: "halfEven", signDisplay: sign ? "exceptZero" : "auto",
    }).format(value).replace("-", "\u2212");
  const sum = (list) => list.reduce((whole, stroke) => whole + stroke.gained, 0);

  function fits(of, wanted) {
    return [...wanted].every(([name, value]) => {
      if (name === "since") return of.date >= value;
      if (name === "until") return of.date <= value;
      return !(name in of) || of[name] === value;
    });
  }
  const chosen = () => inZone.filter((stroke) => fits(stroke, choice));

  function named(wanted) {
    const tell = ([name, value]) => {
      if (name in text) return fill(name, { value });
      return said[name] && said[name][value] ? said[name][value] : value;
    };
    return [...wanted].map(tell).join(", ") || text.every;
  }

  function summed(list) {
    const holes = played.filter((of) => fits(of, choice)).reduce((n, of) => n + of.holes, 0);
    const scored = list.filter((stroke) => stroke.gained !== null);
    const whole = sum(scored);
    return {
      shots: scored.length,
      rounds: new Set(scored.map((stroke) => stroke.round)).size,
      shot: whole / scored.length,
      round: whole / (holes / 18),
    };
  }

  function tell(list) {
    const found = summed(list);
    if (!choice.size) return text.cleared;
    if (!found.shots) return text.none;
    const whole = played.filter((of) => fits(of, choice)).length;
    const rounds = count(whole, "round");
    return fill("told", {
      shots: count(found.shots, "stroke"),
      rounds: found.rounds < whole ? fill("of", { n: found.rounds, rounds }) : rounds,
      round: digits(found.round, 2, true), shot: digits(found.shot, 2, true),
    });
  }

  function byPart(list) {
    const parts = words.part.map((part) => [part, list.filter((of) => of.part === part)]);
    return parts.map(([part, own]) => ({ part, name: said.part[part], ...summed(own) }))
      .filter((of) => of.shots).sort((a, b) => a.round - b.round);
  }

  function line(values) {
    const row = document.createElement("tr");
    for (const [k, value] of values.entries()) {
      const made = document.createElement(k ? "td" : "th");
      if (!k) made.scope = "row";
      made.append(value);
      row.append(made);
    }
    return row;
  }

  function button(words, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "opens";
    made.append(words);
    made.addEventListener("click", act);
    return made;
  }
  const opening = (words, wanted) => button(words, () => open(new URLSearchParams(wanted)));

  // The charts: dots of strokes that are not chosen go, and what was worked out of all of them.
  const knows = (id, name) =>
    (forms[charts[id][0]].params || []).some((param) => param.name === name);
  function follow(id, view) {
    if (id === SUMS) return drawSums(view);
    if (knows(id, "days")) return showDays(view);
    if (!knows(id, "choice")) return null;
    const kept = new Set(now.list.map((stroke) => stroke.id));
    view.signal("choice", choice.size > 0);
    for (const [place, set] of charts[id][1].entries()) {
      if (!set[0].includes("stroke")) continue;
      view.data(`d${place}`, objects(set).filter((row) => kept.has(row.stroke)));
    }
    return view.runAsync();
  }

  function drawSums(view) {
    if (!now.parts.length) return null; // it is hidden
    const place = charts[SUMS][1].findIndex(([columns]) => columns.includes("number"));
    const values = now.parts.map((of) => ({
      name: of.name, gained_per_round: of.round, number: digits(of.round, 2, true),
    }));
    return view.height(ROOM * values.length).data(`d${place}`, values).runAsync();
  }

  // The season's line: a brush along it sets the two days, and the days set the brush.
  const [first, last] = [inputs.get("since").min, inputs.get("until").max];
  let resting = 0;
  let placing = false;
  function dayOf(moment, up) {
    const day = new Date(moment);
    day.setHours(0, 0, 0, 0);
    if (up && day < moment) day.setDate(day.getDate() + 1);
    const two = (n) => `${n}`.padStart(2, "0");
    return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
  }
  function daysUnder(view) {
    const [ends] = Object.values(view.signal("days") || {});
    if (!ends) return {};
    const [from, to] = ends.map(Number).sort((a, b) => a - b);
    const days = { since: dayOf(from, true), until: dayOf(to, false) };
    if (days.since > days.until) return {};
    return { since: days.since > first && days.since, until: days.until < last && days.until };
  }
  function brush(view) {
    if (placing) return;
    clearTimeout(resting);
    resting = setTimeout(async () => {
      resting = 0;
      const days = daysUnder(view);
      const wanted = wanting((name) => (/since|until/.test(name) ? days[name] : choice.get(name)));
      if (`${wanted}` === `${choice}`) return;
      const top = () => view.container().getBoundingClientRect().top;
      const before = top();
      await choose(wanted); // which may open the sums above: the line stays under the hand
      window.scrollBy({ top: top() - before, behavior: "instant" });
    }, PAUSE);
  }
  async function showDays(view) {
    const days = daysUnder(view);
    const [since, until] = ["since", "until"].map((name) => choice.get(name));
    if (resting || (since === (days.since || null) && until === (days.until || null))) return;
    const width = view.signal("width");
    const middle = (day, half) => view.scale("x")(Date.parse(`${day}T00:00`) + half * 43200000);
    const inside = (x) => Math.min(Math.max(x, 0), width);
    const ends = [since ? middle(since, -1) : 0, until ? middle(until, 1) : width];
    placing = true;
    await view.signal("days_x", since || until ? ends.map(inside) : [0, 0]).runAsync();
    placing = false;
  }

  async function redraw() {
    const on = choice.size > 0;
    const was = document.documentElement.classList.contains("choosing");
    if (!on && !was) return; // nothing on the page has followed anything
    const list = chosen();
    const parts = byPart(list);
    now = { list, parts };
    document.documentElement.classList.toggle("choosing", on);
    find(".told").textContent = tell(list);
    for (const button of document.querySelectorAll(".state button")) button.hidden = !on;
    find(".chosen").hidden = !on || !parts.length;
    const values = (of) => [
      opening(of.name, { part: of.part }), `${of.shots}`, `${of.rounds}`,
      digits(of.shot, 2, true), digits(of.round, 2, true),
    ];
    find(".chosen tbody").replaceChildren(...parts.map((of) => line(values(of))));
    find(".chosen .csv").href = csv(SUMMED, parts);
    for (const [name, input] of inputs) {
      if (input && document.activeElement !== input) input.value = choice.get(name) || "";
    }
    for (const link of document.querySelectorAll(".take .svg")) entitle(link);
    if (!drawer.hidden) listStrokes();
    if (on && parts.length) await draw();
    await Promise.all([...views].map(([id, view]) => follow(id, view)));
  }

  function write() {
    const place = at();
    const said = new URLSearchParams([...choice, ...(place ? [["at", place]] : [])]);
    const short = place ? `#${place}` : location.pathname + location.search;
    history.replaceState(null, "", choice.size ? `#${said}` : short);
  }

  function choose(wanted) {
    choice = wanted;
    write();
    return redraw();
  }

  function read() {
    const given = new URLSearchParams(fragment());
    const isDay = (value) => { // 30 February parses as 2 March
      const day = /^\d{4}-\d\d-\d\d$/.test(value) ? new Date(value) : new Date(NaN);
      return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(value);
    };
    return wanting((name) => {
      const value = given.get(name);
      return /since|until/.test(name) && !isDay(value) ? "" : value;
    });
  }

  // The list of strokes, at the foot of the screen so that the charts stay in sight.
  function place(lie, yards) {
    if (!lie) return text.unknown;
    if (!(lie in lengths)) return lie;
    const [factor, places, unit] = lengths[lie];
    return `${lie} ${digits(yards * factor, places)} ${unit}`;
  }
  const told = {
    start: (of) => place(of.lie, of.yards),
    end: (of) => place(of.end, of.left),
    gained: (of) => (of.gained === null ? "" : digits(of.gained, 2, true)),
  };
  const usual = (name) => (of) => (of[name] === undefined ? "" : `${of[name]}`);

  function listed() {
    const list = chosen().filter((stroke) => fits(stroke, opens));
    const last = bestFirst ? -Infinity : Infinity;
    const worth = (of) => (of.gained === null ? last : of.gained);
    return list.sort((a, b) => (bestFirst ? worth(b) - worth(a) : worth(a) - worth(b)));
  }

  const TAKEN = {
    round: "number", distance_yd: "yards", end_lie: "end", end_distance_yd: "left",
    gained_per_shot: "shot", gained_per_round: "round",
  };
  const SUMMED = ["part", "shots", "rounds", "gained_per_shot", "gained_per_round"];
  function csv(names, list) {
    const quoted = (value) => (/[",\n\r]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
    const cell = (of, name) => {
      const value = of[TAKEN[name] || name];
      const bare = typeof value === "number" ? Number(value.toFixed(6)) : value;
      const written = bare === undefined || bare === null ? "" : `${bare}`;
      return quoted(guarded[written] || written);
    };
    const made = list.map((of) => names.map((name) => cell(of, name)).join(","));
    return `data:text/csv;charset=utf-8,${encodeURIComponent([names.join(","), ...made, ""].join("\n"))}`;
  }
  const COLUMNS = [
    "date", "round", "hole", "shot", "lie", "distance_yd", "part", "band", "club", "end_lie",
    "end_distance_yd", "penalty", "gained", ...(Object.keys(notes).length ? ["note"] : []),
  ];

  function listStrokes(touched) {
    const list = listed();
    const near = touched === undefined ? 0 : list.findIndex((stroke) => stroke.id === touched);
    const from = Math.max(0, Math.min(near - MOST / 2, list.length - MOST));
    const shown = list.slice(from, from + MOST);
    const wanted = [...[...choice].filter(([name, one]) => opens.get(name) !== one), ...opens];
    const bare = list.filter((stroke) => stroke.gained === null).length;
    const values = {
      what: named(wanted), shown: shown.length,
      shots: count(list.length, "stroke") + (bare ? fill("unvalued", { n: bare }) : ""),
    };
    find("#drawer-title").textContent = fill(shown.length < list.length ? "some" : "listed", values);
    const columns = headings.map(([name]) => told[name] || usual(name));
    find(".drawer tbody").replaceChildren(...shown.map((stroke) => {
      const row = line(columns.map((tellOf) => tellOf(stroke)));
      row.dataset.stroke = stroke.id;
      return row;
    }));
    find(".drawer .csv").href = csv(COLUMNS, list);
    find(".worst").setAttribute("aria-pressed", String(!bestFirst));
    find(".best").setAttribute("aria-pressed", String(bestFirst));
    mark(touched);
  }

  function open(wanted, touched) {
    if (drawer.hidden) opener = document.activeElement;
    opens = wanted;
    drawer.hidden = false;
    document.documentElement.classList.add("listing");
    listStrokes(touched);
    const row = find(".drawer tr.marked");
    find(".drawer .scroll").scrollTop = row ? row.offsetTop - 80 : 0;
    find("#drawer-title").focus({ preventScroll: true });
  }

  function close() {
    drawer.hidden = true;
    document.documentElement.classList.remove("listing");
    mark();
    if (opener && opener.isConnected) opener.focus({ preventScroll: true });
  }

  // One stroke has the same mark in every chart and in the list.
  function mark(id) {
    for (const old of document.querySelectorAll(".marked")) old.classList.remove("marked");
    if (id === undefined) return;
    for (const dot of document.querySelectorAll(".live .mark-symbol path")) {
      const item = dot.__data__;
      if (item && item.datum && item.datum.stroke === id) dot.classList.add("marked");
    }
    const row = find(`.drawer tr[data-stroke="${id}"]`);
    if (row) row.classList.add("marked");
  }

  function attach(live, view) {
    const stroke = (item) => (item && item.datum ? item.datum.stroke : undefined);
    view.addEventListener("mouseover", (_, item) => mark(stroke(item)));
    view.addEventListener("click", (_, item) => {
      const of = all[stroke(item)];
      if (of) open(new URLSearchParams({ lie: of.lie, band: of.band }), of.id);
      else if (item && item.datum && item.datum.opens) open(new URLSearchParams(item.datum.opens));
    });
    if (knows(live.id, "days")) {
      live.classList.add("brushes");
      view.addSignalListener("days", () => brush(view));
    }
    if (!live.dataset.offered) offer(live);
    return choice.size ? follow(live.id, view) : null;
  }

  // A chart is taken in its light look: as it is drawn in the page, or of the strokes chosen.
  const followed = (id) => choice.size > 0 && (id === SUMS || knows(id, "choice"));
  function entitle(link) {
    link.textContent = followed(link.dataset.chart) ? text.take_chosen : text.take;
    link.setAttribute("aria-label", `${link.textContent}: ${link.dataset.title}${link.dataset.nth || ""}`);
  }
  async function save(id, kind) {
    const chart = { ...specification(charts[id]), background: paper };
    if (chart.width === "container") chart.width = views.get(id).width();
    if (followed(id)) { // away from the page it has to say whose strokes it shows
      const { title } = find(`.take [data-chart="${id}"]`).dataset;
      const [own] = title.split(", "); // what follows counts all strokes
      const subtitle = [named(choice), text.as_played];
      chart.title = { text: own, ...chart.title, subtitle };
    }
    const view = await drawn(document.createElement("div"), chart, (as) => as);
    if (followed(id)) await follow(id, view);
    const svg = async () => `data:image/svg+xml,${encodeURIComponent(await view.toSVG())}`;
    const href = kind === "svg" ? await svg() : await view.toImageURL(kind, 2);
    const download = `${id}${followed(id) && id !== SUMS ? "-choice" : ""}.${kind}`;
    view.finalize();
    Object.assign(document.createElement("a"), { href, download }).click();
  }
  function offer(live) {
    const still = live.parentElement.querySelector(".still");
    const head = live.parentElement.querySelector("h3") || live.closest("section").querySelector("h2");
    const svg = document.createElement("a");
    Object.assign(svg, { className: "svg", href: still ? still.src : "#", download: `${live.id}.svg` });
    const title = head.textContent; // of several charts under one heading each has its number
    const others = [...document.querySelectorAll(".take .svg")];
    const before = others.filter((other) => other.dataset.title === title).length;
    Object.assign(svg.dataset, { chart: live.id, title, nth: before ? ` (${before + 1})` : "" });
    svg.addEventListener("click", (event) => {
      if (still && !followed(live.id)) return;
      event.preventDefault();
      save(live.id, "svg");
    });
    const png = button(text.picture, () => save(live.id, "png"));
    png.setAttribute("aria-label", `${text.picture}: ${title}${svg.dataset.nth}`);
    entitle(svg);
    const line = document.createElement("p");
    line.className = "take";
    line.append(svg, " ", png);
    (still || live).after(line);
    if (live.matches(".brushes")) {
      const hint = document.createElement("p");
      hint.className = "hint";
      hint.append(text.brush);
      live.before(hint);
    }
    live.dataset.offered = "true";
  }

  bar.hidden = false;
  bar.open = wide;
  choice = read();
  find(".drawer thead tr").append(...headings.map(([, textContent]) =>
    Object.assign(document.createElement("th"), { scope: "col", textContent })));
  for (const head of document.querySelectorAll("th[data-opens]")) {
    head.replaceChildren(opening(head.textContent, head.dataset.opens));
  }
  bar.addEventListener("change", () => {
    choose(wanting((name) => inputs.get(name) && inputs.get(name).value));
  });
  find(".clear").addEventListener("click", () => {
    bar.querySelector("summary").focus({ preventScroll: true });
    choose(wanting(() => ""));
  });
  for (const show of document.querySelectorAll(".show")) {
    show.addEventListener("click", () => open(wanting(() => "")));
  }
  find(".worst").addEventListener("click", () => { bestFirst = false; listStrokes(); });
  find(".best").addEventListener("click", () => { bestFirst = true; listStrokes(); });
  find(".close").addEventListener("click", close);
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !drawer.hidden) close();
  });
  drawer.addEventListener("mouseover", (event) => {
    const row = event.target.closest("tr[data-stroke]");
    if (row) mark(Number(row.dataset.stroke));
  });
  window.addEventListener("hashchange", () => {
    if (fragment() && isPlace()) write(); // a link of the page keeps the choice
    else choose(read());
  });
  return { attach, redraw };
}
