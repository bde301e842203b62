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

  async function draw() {
    const root = document.documentElement;
    root.classList.add("drawing");
    for (const [id, chart] of Object.entries(charts)) {
      // Vega writes its own role and name on the place it draws in; the chart's words stand on the
      // element around it, and hundreds of marks read out help nobody.
      const place = document.createElement("div");
      document.getElementById(id).replaceChildren(place);
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
    }
    root.classList.add("drawn");
  }

  draw();
  dark.addEventListener("change", draw);
})();
