// The charts of a page and its folds. html.py puts this and choosing.js into one function.
const held = JSON.parse(document.getElementById("data").textContent);
const { forms, charts, config, twins, paper, strokes } = held;
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

async function drawn(place, chart, look) {
  const { view } = await window.vegaEmbed(place, look(chart), {
    mode: "vega-lite",
    config: look(config),
    renderer: "svg",
    ast: true,
    actions: false,
    defaultStyle: false,
    tooltip: { disableDefaultStyle: true },
  });
  return view;
}

async function embed(live, chart) {
  // Vega writes its own role and name on the place it draws in; the chart's words stand on the
  // element around it, and hundreds of marks read out help nobody.
  const place = document.createElement("div");
  live.classList.add("drawing");
  live.replaceChildren(place);
  if (views.has(live.id)) views.get(live.id).finalize();
  const view = await drawn(place, specification(chart), coloured);
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
// The address says where the reader is (#where), what is chosen (#lie=rough), or both, the place
// then as "at" (#lie=rough&at=where).
const fragment = () => location.hash.slice(1);
const isPlace = () => !fragment().includes("=");
const at = () => (isPlace() ? fragment() : new URLSearchParams(fragment()).get("at") || "");
function reveal() {
  const target = document.getElementById(at());
  const fold = target && target.closest(".fold");
  if (!target || (isPlace() && (!fold || fold.open))) return;
  if (fold) fold.open = true;
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

const asked = strokes ? asking(strokes) : null; // choosing.js
draw()
  .then(() => asked && asked.redraw())
  .then(() => {
    if (!isPlace()) reveal(); // the charts of the choice have moved the place
    document.documentElement.classList.add("drawn");
  });
dark.addEventListener("change", () => {
  begun.clear();
  draw().then(() => asked && asked.redraw());
});
