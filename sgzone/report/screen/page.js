(() => {
  "use strict";
  const held = JSON.parse(document.getElementById("data").textContent);
  const { forms, charts, config, twins, strokes } = held;
  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  const find = (selector) => document.querySelector(selector);
  const views = new Map();

  function coloured(value) {
    if (!dark.matches) return value;
    let text = JSON.stringify(value);
    for (const [light, twin] of Object.entries(twins)) {
      text = text.replaceAll(`"${light}"`, `"${twin}"`);
    }
    return JSON.parse(text);
  }

  const objects = ([columns, rows]) =>
    rows.map((row) => Object.fromEntries(columns.map((name, k) => [name, row[k]])));

  // A form has the places of what follows from a chart's rows: its scales' ends, its height.
  function filled(form, values) {
    if (Array.isArray(form)) return form.map((one) => filled(one, values));
    if (form === null || typeof form !== "object") return form;
    if ("$" in form) return values[form.$];
    return Object.fromEntries(Object.entries(form).map(([key, one]) => [key, filled(one, values)]));
  }

  function specification([form, sets, values]) {
    const datasets = sets.map((set, place) => [`d${place}`, objects(set)]);
    return { ...filled(forms[form], values), datasets: Object.fromEntries(datasets) };
  }

  async function embed(live, chart) {
    // Vega writes its own role and name on the place it draws in; the chart's words stand on the
    // element around it, and hundreds of marks read out help nobody.
    const place = document.createElement("div");
    live.classList.add("drawing");
    live.replaceChildren(place);
    const { view } = await window.vegaEmbed(place, coloured(specification(chart)), {
      mode: "vega-lite",
      config: coloured(config),
      renderer: "svg",
      ast: true,
      actions: false,
      defaultStyle: false,
      tooltip: { disableDefaultStyle: true },
    });
    place.setAttribute("aria-hidden", "true");
    live.classList.add("drawn");
    views.set(live.id, view);
    if (strokes) asked.attach(live, view);
  }

  // A chart in a folded section has no width to take: it is drawn when the section opens.
  const begun = new Set();
  async function draw() {
    for (const [id, chart] of Object.entries(charts)) {
      const live = document.getElementById(id);
      const fold = live.closest(".fold");
      if (begun.has(id) || (fold && !fold.open) || live.closest("[hidden]")) continue;
      begun.add(id);
      await embed(live, chart);
    }
  }

  const folds = [...document.querySelectorAll(".fold, .contents")];
  const fragment = () => location.hash.slice(1);
  function reveal() {
    const target = fragment().includes("=") ? null : document.getElementById(fragment());
    const fold = target && target.closest(".fold");
    if (!fold || fold.open) return;
    fold.open = true;
    target.scrollIntoView();
  }
  const wide = window.matchMedia("(min-width: 44rem)").matches;
  if (wide) {
    for (const fold of folds) fold.open = true;
  }
  reveal();
  window.addEventListener("hashchange", reveal);
  for (const fold of folds) fold.addEventListener("toggle", draw);

  let opened = [];
  window.addEventListener("beforeprint", () => {
    opened = folds.filter((fold) => !fold.open);
    for (const fold of opened) fold.open = true;
  });
  window.addEventListener("afterprint", () => {
    for (const fold of opened) fold.open = false;
  });

  // What the reader asks: sums and counts of strokes as played. Nothing is estimated here.
  const asked = strokes ? asking(strokes) : null;
  function asking({ rounds, rows, notes, words, said, lengths, headings, guarded, text }) {
    const NAMES = ["since", "until", "event", "lie", "club", "part"];
    const MOST = 200;
    const ROOM = 30;
    const bar = find(".choose");
    const drawer = find(".drawer");
    const inputs = new Map(NAMES.map((name) => [name, bar.querySelector(`[name=${name}]`)]));
    const played = rounds.map(([date, number, event, holes]) => ({
      date, number, holes, event: words.event[event],
    }));
    const all = rows.map((row, id) => {
      const [round, hole, shot, lie, yards, part, band, club, end, left, penalty, gained] = row;
      return {
        id, hole, shot, yards, left, penalty, gained, round: played[round],
        date: played[round].date, event: played[round].event, lie: words.lie[lie],
        part: words.part[part], band: words.band[band], club: words.club[club],
        end: words.lie[end], note: notes[id],
      };
    });
    const inZone = all.filter((stroke) => stroke.part);
    let choice = new URLSearchParams();
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
      return fill("told", {
        shots: count(found.shots, "stroke"), rounds: count(found.rounds, "round"),
        round: digits(found.round, 2, true), shot: digits(found.shot, 2, true),
      });
    }

    function byPart(list) {
      const parts = words.part.map((part) => [part, list.filter((of) => of.part === part)]);
      return parts.map(([part, own]) => ({ part, name: said.part[part], ...summed(own) }))
        .filter((of) => of.shots).sort((a, b) => a.round - b.round);
    }

    function cells(row, values, head) {
      for (const [k, value] of values.entries()) {
        const made = document.createElement(k === 0 && head ? "th" : "td");
        if (made.tagName === "TH") made.scope = "row";
        made.append(value);
        row.append(made);
      }
      return row;
    }
    const line = (values) => cells(document.createElement("tr"), values, true);

    function button(words, wanted) {
      const made = document.createElement("button");
      made.type = "button";
      made.className = "opens";
      made.append(words);
      made.addEventListener("click", () => open(wanted));
      return made;
    }

    // The charts: dots of strokes that are not chosen go, and what was worked out of all of them.
    function follow(id) {
      const view = views.get(id);
      const [form, sets] = charts[id];
      const on = choice.size > 0;
      if (!(forms[form].params || []).some((param) => param.name === "choice")) return null;
      const kept = new Set(chosen().map((stroke) => stroke.id));
      view.signal("choice", on);
      for (const [place, set] of sets.entries()) {
        if (!set[0].includes("stroke")) continue;
        view.data(`d${place}`, objects(set).filter((row) => kept.has(row.stroke)));
      }
      return view.runAsync();
    }

    async function drawSums(parts) {
      await draw();
      const view = views.get("chosen-chart");
      if (!view) return;
      const place = charts["chosen-chart"][1].findIndex(([columns]) => columns.includes("number"));
      const values = parts.map((of) => ({
        name: of.name, gained_per_round: of.round, number: digits(of.round, 2, true),
      }));
      await view.height(ROOM * parts.length).data(`d${place}`, values).runAsync();
    }

    async function redraw() {
      const on = choice.size > 0;
      const list = chosen();
      const parts = byPart(list);
      document.documentElement.classList.toggle("choosing", on);
      find(".told").textContent = on || find(".told").textContent ? tell(list) : "";
      find(".clear").hidden = !on;
      find(".chosen").hidden = !on || !parts.length;
      const values = (of) => [
        button(of.name, new URLSearchParams({ part: of.part })), `${of.shots}`, `${of.rounds}`,
        digits(of.shot, 2, true), digits(of.round, 2, true),
      ];
      find(".chosen tbody").replaceChildren(...parts.map((of) => line(values(of))));
      for (const [name, input] of inputs) {
        if (input && document.activeElement !== input) input.value = choice.get(name) || "";
      }
      if (!drawer.hidden) list_strokes();
      if (on && parts.length) await drawSums(parts);
      await Promise.all([...views.keys()].map(follow));
    }

    function choose(wanted) {
      choice = wanted;
      const at = choice.size ? `#${choice}` : " ";
      history.replaceState(null, "", choice.size ? at : location.pathname + location.search);
      return redraw();
    }

    function read() {
      const given = new URLSearchParams(fragment());
      const kept = NAMES.filter((name) => given.get(name)).map((name) => [name, given.get(name)]);
      return new URLSearchParams(kept);
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

    function csv(list) {
      const quoted = (value) => (/[",\n\r]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
      const names = [
        "date", "round", "hole", "shot", "lie", "distance_yd", "part", "band", "club", "end_lie",
        "end_distance_yd", "penalty", "gained", ...(Object.keys(notes).length ? ["note"] : []),
      ];
      const of = { distance_yd: "yards", end_lie: "end", end_distance_yd: "left" };
      const cell = (stroke, name) => {
        const value = name === "round" ? stroke.round.number : stroke[of[name] || name];
        const written = value === undefined || value === null ? "" : `${value}`;
        return quoted(guarded[written] || written);
      };
      const made = list.map((stroke) => names.map((name) => cell(stroke, name)).join(","));
      return `data:text/csv;charset=utf-8,${encodeURIComponent([names.join(","), ...made, ""].join("\n"))}`;
    }

    function list_strokes(touched) {
      const list = listed();
      const near = touched === undefined ? 0 : list.findIndex((stroke) => stroke.id === touched);
      const from = Math.max(0, Math.min(near - MOST / 2, list.length - MOST));
      const shown = list.slice(from, from + MOST);
      const wanted = new URLSearchParams([...choice, ...opens]);
      const values = { what: named(wanted), shots: count(list.length, "stroke"), shown: shown.length };
      find("#drawer-title").textContent = fill(shown.length < list.length ? "some" : "listed", values);
      const columns = headings.map(([name]) => told[name] || usual(name));
      find(".drawer tbody").replaceChildren(...shown.map((stroke) => {
        const row = line(columns.map((tellOf) => tellOf(stroke)));
        row.dataset.stroke = stroke.id;
        return row;
      }));
      find(".drawer .csv").href = csv(list);
      find(".worst").setAttribute("aria-pressed", String(!bestFirst));
      find(".best").setAttribute("aria-pressed", String(bestFirst));
      mark(touched);
    }

    function open(wanted, touched) {
      if (drawer.hidden) opener = document.activeElement;
      opens = wanted;
      drawer.hidden = false;
      document.documentElement.classList.add("listing");
      list_strokes(touched);
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
      const { parentElement: panel } = live;
      const still = panel.querySelector(".still");
      if (still && !panel.querySelector(".take")) {
        const link = document.createElement("a");
        Object.assign(link, { href: still.src, download: `${live.id}.svg`, textContent: text.take });
        link.setAttribute("aria-label", `${text.take}: ${live.id}`);
        const line = document.createElement("p");
        line.className = "take";
        line.append(link);
        panel.append(line);
      }
      return choice.size ? follow(live.id) : null;
    }

    bar.hidden = false;
    bar.open = wide;
    choice = read();
    cells(find(".drawer thead tr"), headings.map(([, heading]) => heading));
    for (const head of document.querySelectorAll("th[data-opens]")) {
      head.replaceChildren(button(head.textContent, new URLSearchParams(head.dataset.opens)));
    }
    bar.addEventListener("change", () => {
      const given = [...inputs].filter(([, input]) => input && input.value);
      choose(new URLSearchParams(given.map(([name, input]) => [name, input.value])));
    });
    find(".clear").addEventListener("click", () => {
      find(".show").focus();
      choose(new URLSearchParams());
    });
    find(".show").addEventListener("click", () => open(new URLSearchParams()));
    find(".worst").addEventListener("click", () => { bestFirst = false; list_strokes(); });
    find(".best").addEventListener("click", () => { bestFirst = true; list_strokes(); });
    find(".close").addEventListener("click", close);
    document.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && !drawer.hidden) close();
    });
    drawer.addEventListener("mouseover", (event) => {
      const row = event.target.closest("tr[data-stroke]");
      if (row) mark(Number(row.dataset.stroke));
    });
    window.addEventListener("hashchange", () => {
      if (!fragment() || fragment().includes("=")) choose(read());
    });
    return { attach, redraw };
  }

  draw()
    .then(() => asked && asked.redraw())
    .then(() => document.documentElement.classList.add("drawn"));
  dark.addEventListener("change", () => {
    begun.clear();
    draw().then(() => asked && asked.redraw());
  });
})();
