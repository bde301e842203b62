(() => {
  "use strict";
  const { forms, charts, config, twins } = JSON.parse(document.getElementById("data").textContent);
  const dark = window.matchMedia("(prefers-color-scheme: dark)");

  function coloured(value) {
    if (!dark.matches) return value;
    let text = JSON.stringify(value);
    for (const [light, twin] of Object.entries(twins)) {
      text = text.replaceAll(`"${light}"`, `"${twin}"`);
    }
    return JSON.parse(text);
  }

  function specification([form, sets]) {
    const named = ([columns, rows], place) => [
      `d${place}`,
      rows.map((row) => Object.fromEntries(columns.map((name, k) => [name, row[k]]))),
    ];
    return { ...forms[form], datasets: Object.fromEntries(sets.map(named)) };
  }

  async function embed(live, chart) {
    // Vega writes its own role and name on the place it draws in; the chart's words stand on the
    // element around it, and hundreds of marks read out help nobody.
    const place = document.createElement("div");
    live.classList.add("drawing");
    live.replaceChildren(place);
    await window.vegaEmbed(place, coloured(specification(chart)), {
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
  }

  // A chart in a folded section has no width to take: it is drawn when the section opens.
  const begun = new Set();
  async function draw() {
    for (const [id, chart] of Object.entries(charts)) {
      const live = document.getElementById(id);
      const fold = live.closest(".fold");
      if (begun.has(id) || (fold && !fold.open)) continue;
      begun.add(id);
      await embed(live, chart);
    }
  }

  const folds = [...document.querySelectorAll(".fold, .contents")];
  function reveal() {
    const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const fold = target && target.closest(".fold");
    if (!fold || fold.open) return;
    fold.open = true;
    target.scrollIntoView();
  }
  if (window.matchMedia("(min-width: 44rem)").matches) {
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

  draw().then(() => document.documentElement.classList.add("drawn"));
  dark.addEventListener("change", () => {
    begun.clear();
    draw();
  });
})();
