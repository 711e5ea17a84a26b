// The map as a drawing to work on, by mouse, touch and keyboard. It changes the text of the form beside it and nothing
// else: what is sent, checked and kept is that text. Without this script the page has its lists and forms.

const EDGE = 1000, MARGIN = 70, STEP = 5, LEAP = 50, REACH = 4;
const SVG = "http://www.w3.org/2000/svg";
const box = document.querySelector("[data-map-editor]");
const form = document.querySelector("[data-map-form]");
const area = form?.querySelector("textarea[name$='text']");

if (box && area) begin();

function begin() {
  const words = box.dataset;
  const canvas = box.querySelector(".map-canvas");
  const status = box.querySelector(".map-status");
  const tools = Object.fromEntries([...box.querySelectorAll("[data-do]")].map((each) => [each.dataset.do, each]));
  const panels = [...box.querySelectorAll("[data-of]")];
  const first = area.value;
  let map, chosen = null, mode = "", past = [];

  const read = () => {
    try {
      const told = JSON.parse(area.value);
      if (!Array.isArray(told.regions) || !Array.isArray(told.roads)) return null;
      return told;
    } catch { return null; }
  };
  const say = (text, values = {}) => {
    status.textContent = text.replace(/\{(\w+)\}/g, (_all, name) => values[name] ?? "");
  };
  const region = (key) => map.regions.find((each) => each.key === key);
  const thing = () => chosen && (chosen.of === "region" ? region(chosen.key) : map.roads.find((each) => each.key === chosen.key));
  const called = (each) => each.name || each.key;
  const roadName = (road) => words.road.replace("{one}", called(region(road.a) ?? { key: road.a })).replace("{other}", called(region(road.b) ?? { key: road.b }));
  const clamp = (value) => Math.min(EDGE, Math.max(0, Math.round(value)));

  const remember = () => {
    past.push(area.value);
    if (past.length > 100) past.shift();
  };
  const keep = () => {
    area.value = JSON.stringify(map, null, 1);
    tools.undo.disabled = past.length === 0;
  };
  const change = (act) => { remember(); act(); keep(); draw(); };

  function freeKey(stem, list) {
    let number = 1;
    while (list.some((each) => each.key === `${stem}${number}`)) number += 1;
    return `${stem}${number}`;
  }

  // --- drawing

  const make = (name, attributes, ...inside) => {
    const node = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
    node.append(...inside);
    return node;
  };

  // The sheet is as wide as it needs to be for names to be read, and scrolls where the window is narrower.
  const svg = make("svg", {
    class: "map-sheet map-work", viewBox: `${-MARGIN} ${-MARGIN} ${EDGE + 2 * MARGIN} ${EDGE + 2 * MARGIN}`,
    width: 820, height: 820, role: "group",
  });
  svg.setAttribute("aria-label", document.querySelector("h1")?.textContent ?? "");
  canvas.append(svg);

  function draw(focus = true) {
    const held = document.activeElement?.dataset?.at;
    svg.replaceChildren(make("rect", { class: "map-ground", x: -MARGIN, y: -MARGIN, width: EDGE + 2 * MARGIN, height: EDGE + 2 * MARGIN }));
    const beside = new Map();
    for (const road of map.roads) {
      const a = region(road.a), b = region(road.b);
      if (!a || !b) continue;
      const pair = [road.a, road.b].sort().join(" ");
      const place = beside.get(pair) ?? 0;
      beside.set(pair, place + 1);
      const [from, to] = road.a < road.b ? [a, b] : [b, a];
      const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
      const bow = (place % 2 ? -1 : 1) * Math.ceil(place / 2) * 50;
      const middle = `${(from.x + to.x) / 2 - ((to.y - from.y) / length) * bow} ${(from.y + to.y) / 2 + ((to.x - from.x) / length) * bow}`;
      const path = `M${from.x} ${from.y}Q${middle} ${to.x} ${to.y}`;
      const group = make("g", {
        class: `map-way map-${road.kind}${is("road", road.key) ? " map-chosen" : ""}`, tabindex: 0, role: "button",
        "data-at": `road ${road.key}`, "aria-label": roadName(road), "aria-pressed": is("road", road.key),
      }, make("path", { class: "map-grip", d: path }), make("path", { class: "map-under", d: path }), make("path", { class: "map-over", d: path }));
      svg.append(group);
    }
    for (const each of map.regions) {
      const at = { x: each.x, y: each.y };
      const group = make("g", {
        class: `map-place${is("region", each.key) ? " map-chosen" : ""}`, tabindex: 0, role: "button",
        "data-at": `region ${each.key}`, "aria-label": `${called(each)}, ${each.terrain}`, "aria-pressed": is("region", each.key),
      }, make("circle", { class: "map-touch", cx: at.x, cy: at.y, r: 36 }));
      group.append(each.stronghold
        ? make("path", { class: "map-post", transform: `translate(${at.x} ${at.y})`, d: "M-20 -22h9v6h6v-6h10v6h6v-6h9v40h-40z" })
        : make("circle", { class: "map-post", cx: at.x, cy: at.y, r: 17 }));
      const inside = `${each.produces ? `+${each.produces}` : ""}`;
      if (inside) group.append(text("map-flag-letter", at.x, at.y + 6, inside));
      group.append(text("map-name", at.x, at.y + 40, called(each)));
      const under = [each.terrain, each.port ? "⚓" : ""].filter(Boolean).join(" ");
      if (under) group.append(text("map-word map-quiet", at.x, at.y + 60, under));
      svg.append(group);
    }
    show();
    if (focus && held) svg.querySelector(`[data-at="${CSS.escape(held)}"]`)?.focus({ preventScroll: true });
  }

  function text(name, x, y, inside) {
    const node = make("text", { class: name, x, y });
    node.textContent = inside;
    return node;
  }

  const is = (of, key) => chosen?.of === of && chosen.key === key;

  // --- what is chosen

  function choose(of, key) {
    chosen = of ? { of, key } : null;
    const each = thing();
    if (!each) chosen = null;
    draw();
    if (each) say(words.chosen, { name: of === "region" ? called(each) : roadName(each) });
  }

  function show() {
    const each = thing();
    tools.road.disabled = chosen?.of !== "region";
    tools.remove.disabled = !each;
    for (const panel of panels) {
      panel.hidden = panel.dataset.of !== chosen?.of;
      if (panel.hidden || !each) continue;
      for (const field of panel.querySelectorAll("[data-field]")) {
        if (field === document.activeElement) continue;
        if (field.type === "checkbox") field.checked = Boolean(each[field.dataset.field]);
        else field.value = each[field.dataset.field] ?? "";
      }
    }
    const list = box.querySelector("datalist");
    list.replaceChildren(...[...new Set(map.regions.map((one) => one.terrain))].filter(Boolean).map((terrain) => {
      const option = document.createElement("option");
      option.value = terrain;
      return option;
    }));
  }

  for (const field of box.querySelectorAll("[data-field]")) {
    field.addEventListener("change", () => {
      const each = thing();
      if (!each) return;
      const number = Number(field.value);
      const value = field.type === "checkbox" ? field.checked : field.type === "number" ? Math.round(Number.isFinite(number) ? number : 0) : field.value.trim();
      change(() => { each[field.dataset.field] = ["x", "y"].includes(field.dataset.field) ? clamp(value) : value; });
    });
    // Enter in a field is no wish to send the whole map.
    field.addEventListener("keydown", (event) => {
      if (event.key === "Enter") { event.preventDefault(); field.dispatchEvent(new Event("change")); }
    });
  }

  // --- acts

  function addRegion(x, y) {
    const key = freeKey("r", map.regions);
    const name = `${words.newRegion} ${key.slice(1)}`;
    change(() => {
      const terrain = map.regions.at(-1)?.terrain || "open";
      map.regions.push({ key, name, terrain, x: clamp(x), y: clamp(y), worth: 1, stronghold: false, port: false, produces: 0 });
    });
    mode = "";
    choose("region", key);
    say(words.added, { name });
    box.querySelector("#map-name").select();
  }

  function join(from, to) {
    mode = "";
    if (from === to) { draw(); return; }
    const key = freeKey("w", map.roads);
    const ports = region(from).port && region(to).port;
    change(() => map.roads.push({ key, a: from, b: to, kind: "road", capacity: 6, loss: 5 }));
    choose("road", key);
    say(words.joined, { one: called(region(from)), other: called(region(to)) });
    if (ports) box.querySelector("#map-kind").focus();
  }

  function remove() {
    const each = thing();
    if (!each) return;
    const name = chosen.of === "region" ? called(each) : roadName(each);
    change(() => {
      if (chosen.of === "region") {
        map.regions = map.regions.filter((one) => one.key !== each.key);
        map.roads = map.roads.filter((one) => one.a !== each.key && one.b !== each.key);
      } else map.roads = map.roads.filter((one) => one.key !== each.key);
      chosen = null;
    });
    say(words.removed, { name });
    svg.querySelector("[data-at]")?.focus({ preventScroll: true });
  }

  function undo() {
    if (!past.length) return;
    area.value = past.pop();
    map = read() ?? map;
    tools.undo.disabled = past.length === 0;
    draw();
    say(words.undone);
  }

  function startRoad() {
    if (chosen?.of !== "region") return;
    mode = "road";
    say(words.pick);
  }

  tools.region.addEventListener("click", (event) => {
    // By keyboard there is no place to tap: it goes beside the chosen region, or to the middle.
    if (event.detail === 0) {
      const near = chosen?.of === "region" ? thing() : { x: EDGE / 2, y: EDGE / 2 };
      addRegion(near.x + (near.x > EDGE - 150 ? -120 : 120), near.y);
    } else { mode = "region"; svg.classList.add("map-placing"); say(words.place); }
  });
  tools.road.addEventListener("click", startRoad);
  tools.remove.addEventListener("click", remove);
  tools.undo.addEventListener("click", undo);

  // --- pointers

  const spot = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [point.x, point.y];
  };
  let drag = null, skip = false;

  function touched(target) {
    const node = target.closest("[data-at]");
    if (!node) return null;
    const [of, key] = [node.dataset.at.split(" ", 1)[0], node.dataset.at.slice(node.dataset.at.indexOf(" ") + 1)];
    return { of, key, node };
  }

  svg.addEventListener("pointerdown", (event) => {
    skip = false;  // the click that follows a drag does not always come
    if (event.button !== 0) return;
    const hit = touched(event.target);
    if (hit?.of !== "region" || mode) return;
    const each = region(hit.key);
    const [x, y] = spot(event);
    drag = { key: hit.key, dx: each.x - x, dy: each.y - y, x: event.clientX, y: event.clientY, moved: false };
    svg.setPointerCapture(event.pointerId);
  });
  svg.addEventListener("pointermove", (event) => {
    if (!drag) return;
    if (!drag.moved && Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < REACH) return;
    if (!drag.moved) { remember(); drag.moved = true; chosen = { of: "region", key: drag.key }; }
    const [x, y] = spot(event);
    const each = region(drag.key);
    each.x = clamp(x + drag.dx);
    each.y = clamp(y + drag.dy);
    draw(false);
  });
  const drop = () => {
    if (!drag) return;
    if (drag.moved) { keep(); moved(region(drag.key)); skip = true; }
    drag = null;
  };
  svg.addEventListener("pointerup", () => {
    // The sheet holds the pointer while a region is dragged, so a tap without a drag is told here.
    const tapped = drag && !drag.moved ? drag.key : null;
    drop();
    if (tapped) { skip = true; pick("region", tapped); svg.querySelector(`[data-at="region ${CSS.escape(tapped)}"]`)?.focus({ preventScroll: true }); }
  });
  svg.addEventListener("pointercancel", drop);
  svg.addEventListener("click", (event) => {
    if (skip) { skip = false; return; }
    if (mode === "region") { svg.classList.remove("map-placing"); addRegion(...spot(event)); return; }
    const hit = touched(event.target);
    if (hit) pick(hit.of, hit.key);
    else { mode = ""; choose(null); }
  });

  function pick(of, key) {
    if (mode === "road" && of === "region") join(chosen.key, key);
    else choose(of, key);
  }

  function moved(each) { say(words.moved, { name: called(each), x: each.x, y: each.y }); }

  // --- keys

  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  svg.addEventListener("keydown", (event) => {
    const hit = touched(event.target);
    if (!hit) return;
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") { event.preventDefault(); undo(); return; }
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Enter" || event.key === " ") { event.preventDefault(); pick(hit.of, hit.key); return; }
    if (event.key === "Escape") { mode = ""; choose(null); return; }
    if (event.key === "Delete" || event.key === "Backspace") { event.preventDefault(); choose(hit.of, hit.key); remove(); return; }
    if (event.key.toLowerCase() === "r" && hit.of === "region") { event.preventDefault(); choose("region", hit.key); startRoad(); return; }
    const way = ways[event.key];
    if (way && is("region", hit.key)) {
      event.preventDefault();
      const each = region(hit.key), far = event.shiftKey ? LEAP : STEP;
      change(() => { each.x = clamp(each.x + way[0] * far); each.y = clamp(each.y + way[1] * far); });
      moved(each);
    }
  });

  // --- the text beside it

  function start() {
    const told = read();
    box.hidden = !told && area.value.trimStart().startsWith("<");
    if (!told) { status.textContent = words.bad; svg.replaceChildren(); return; }
    map = told;
    for (const plain of document.querySelectorAll("[data-map-plain]")) plain.hidden = true;
    box.hidden = false;
    draw(false);
  }
  area.addEventListener("change", () => { past = []; chosen = null; start(); });
  let sent = false;
  form.addEventListener("submit", () => { sent = true; });
  window.addEventListener("beforeunload", (event) => { if (!sent && area.value !== first) event.preventDefault(); });
  start();
}
