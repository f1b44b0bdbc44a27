// The bed: one element a needle, of which a step exchanges only those that look otherwise.

const SVG = "http://www.w3.org/2000/svg";
const SMALLEST_CELL = 8.5; // px; below this a part of the bed is shown, in cells of ROOMY_CELL
const ROOMY_CELL = 11;

function element(name, attributes, parent) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (parent) parent.append(made);
  return made;
}

const bed = {
  root: document.getElementById("bed"),
  needles: [],
  names: [],
  shown: [],
  view: { left: 0, width: geometry.width },
  step: 0,

  build() {
    const cells = document.getElementById("cells");
    for (let needle = told.first; needle <= told.last; needle++) {
      const place = { x: this.x(needle), y: geometry.gate, "data-needle": nameOf(needle) };
      this.needles.push(element("use", place, cells));
    }
    this.shown = new Array(this.needles.length).fill(-1);
    this.buildNames();
    new ResizeObserver(() => this.frame()).observe(this.root);
  },

  // Every fifth needle, and the two beside the centre.
  buildNames() {
    const half = told.needles / 2;
    const layer = document.getElementById("names");
    for (let needle = told.first; needle <= told.last; needle++) {
      const outward = needle < half ? half - needle : needle - half + 1;
      if (outward % 5 && outward !== 1) continue;
      const aside = outward === 1 ? (needle < half ? -7 : 7) : 0;
      const x = this.x(needle) + aside;
      this.names.push({ x, text: this.name(layer, x, nameOf(needle), "name") });
    }
  },

  name(layer, x, words, kind) {
    const y = geometry.rail + geometry.names - 6;
    const text = element("text", { x, y, "font-size": geometry.nameSize, class: kind }, layer);
    text.textContent = words;
    return text;
  },

  x(needle) {
    return geometry.left + (needle - told.first + 0.5) * geometry.cell;
  },

  kind(needle) {
    return told.cells[this.shown[needle - told.first]];
  },

  show(step) {
    this.step = step;
    const cells = cellsOf(told.states[told.steps[step][BED]]);
    for (let place = 0; place < cells.length; place++) {
      if (cells[place] !== this.shown[place]) this.needles[place].setAttribute("href", `#c${cells[place]}`);
    }
    this.shown = cells;
    this.frame();
  },

  // Which part is shown, and whatever stands where the part shown wants it.
  frame() {
    const [, setting, tip, act, , coming] = told.steps[this.step];
    const touches = act < 0 ? [] : told.acts[act][TOUCHES];
    const pass = coming < 0 ? null : told.coming[coming];
    this.look(touches, tip, pass);
    fabric.show(this.step);
    this.drawCarriage(setting);
    this.drawYarn(setting, tip);
    this.drawPass(pass, setting);
    this.drawTouches(touches, setting);
  },

  look(touches, tip, pass) {
    const room = this.root.clientWidth;
    const whole = (room / geometry.width) * geometry.cell;
    let left = 0;
    let width = geometry.width;
    if (room && whole < SMALLEST_CELL) {
      width = Math.min(geometry.width, (room / ROOMY_CELL) * geometry.cell);
      const page = width / 2;
      const turn = Math.round((this.focus(touches, tip, pass) - width / 2) / page);
      left = Math.min(Math.max(0, turn * page), geometry.width - width);
    }
    this.view = { left, width };
    const box = `${left} 0 ${width} ${geometry.height}`;
    if (this.root.getAttribute("viewBox") !== box) this.root.setAttribute("viewBox", box);
  },

  focus(touches, tip, pass) {
    if (touches.length) {
      const needles = touches.flatMap((touch) => touch[1]);
      return (this.x(Math.min(...needles)) + this.x(Math.max(...needles))) / 2;
    }
    if (tip >= 0) return this.x(tip >> 1);
    return pass && pass[1].length ? this.x((pass[1][0] + pass[1].at(-1)) / 2) : geometry.width / 2;
  },

  carriageLeft(setting) {
    const { left, width } = this.view;
    return setting & 1 ? left + width - geometry.edge - geometry.carriage.width : left + geometry.edge;
  },

  drawCarriage(setting) {
    document.getElementById("carriage-as-set").setAttribute("href", `#k${setting >> 1}`);
    const place = `translate(${this.carriageLeft(setting)}px, ${geometry.carriage.top}px)`;
    document.getElementById("carriage").style.transform = place;
  },

  // The strand from its last loop to the carriage, or a loose end.
  drawYarn(setting, tip) {
    const layer = document.getElementById("yarn");
    const feeder = told.settings[setting >> 1][2];
    if (feeder < 0) return layer.replaceChildren();
    const side = setting & 1 ? 1 : -1;
    const { width, top, height } = geometry.carriage;
    const x = this.carriageLeft(setting) + (side > 0 ? 18 : width - 18);
    const y = top + height + 2;
    let path = `M${x} ${y}c0 18 ${-side * 9} 20 0 34`;
    if (tip >= 0) {
      const at = this.x(tip >> 1);
      let startX = at + side * 0.34 * geometry.cell;
      if ((x - startX) * side < 0) startX = at;
      const startY = geometry.gate + geometry.loops + (tip & 1 ? 0.86 : 0.45) * geometry.row;
      const reach = x - startX;
      const low = startY + Math.min(26, 6 + Math.abs(reach) * 0.1);
      path = `M${startX} ${startY}C${startX + 0.4 * reach} ${low} ${startX + 0.86 * reach} ${low} ${x} ${y}`;
    }
    const [rim, light] = told.strands[feeder];
    layer.replaceChildren(
      element("path", { d: path, class: "halo", "stroke-width": 8 }),
      element("path", { d: path, class: `line ${rim}`, "stroke-width": 4.6 }),
      element("path", { d: path, class: `line ${light}`, "stroke-width": 3 }),
    );
  },

  // The arrow along the rail, and rings where the pass will lay wraps.
  drawPass(pass, setting) {
    const rings = [];
    const arrow = document.getElementById("arrow");
    if (!pass) arrow.replaceChildren();
    else {
      const [towards, knit, wrapped, dropped] = pass;
      const works = [...knit, ...dropped];
      const way = towards === "r" ? 1 : -1;
      const near = this.carriageLeft(way < 0 ? 1 : 0) + (way < 0 ? -8 : geometry.carriage.width + 8);
      const { left, width } = this.view;
      let end = way < 0 ? left + geometry.edge + 4 : left + width - geometry.edge - 4;
      if (works.length) {
        const far = this.x(way < 0 ? Math.min(...works) : Math.max(...works)) + way * geometry.cell * 0.5;
        end = way < 0 ? Math.max(end, Math.min(far, near - 40)) : Math.min(end, Math.max(far, near + 40));
      }
      const y = geometry.rail / 2;
      const dash = knit.length || told.settings[setting >> 1][2] >= 0 ? {} : { "stroke-dasharray": "14 9" };
      const head = `M${end - way * 12} ${y - 10}L${end} ${y}L${end - way * 12} ${y + 10}`;
      arrow.replaceChildren(
        element("path", { d: `M${near} ${y}H${end - way * 3}`, class: "pass", ...dash }),
        element("path", { d: head, class: "pass" }),
      );
      for (const [first, last] of stretchesOf(wrapped)) {
        for (let needle = first; needle <= last; needle++) {
          const lower = this.kind(needle)[2] ? 0.52 * geometry.row : 0;
          rings.push(element("use", { href: "#ring", x: this.x(needle), y: geometry.gate + lower }));
        }
      }
    }
    document.getElementById("rings").replaceChildren(...rings);
  },

  // A halo round the needles hands touch now, its needles named, and arrows that say which way.
  drawTouches(touches, setting) {
    const layer = document.createDocumentFragment();
    for (const [kind, flat, target] of touches) {
      for (const [first, last] of stretchesOf(flat)) {
        this.drawHalo(layer, first, last, target);
        for (const path of this.ways(kind, first, last, target, setting)) {
          element("path", { d: path, class: "halo", "stroke-width": 6.5 }, layer);
          element("path", { d: path, class: "way" }, layer);
        }
      }
    }
    this.nameTouched(layer, touches);
    document.getElementById("touches").replaceChildren(layer);
  },

  tip(needle) {
    return geometry.tips[this.kind(needle)[0]];
  },

  drawHalo(layer, first, last, target) {
    const tips = [];
    for (let needle = first; needle <= last; needle++) tips.push(this.tip(needle));
    if (target in geometry.tips) tips.push(geometry.tips[target]);
    const top = Math.min(geometry.loops - 4, ...tips) - 6;
    const bottom = Math.max(geometry.loops + geometry.row, ...tips) + 7;
    const x = this.x(first) - geometry.cell / 2 - 1;
    const width = (last - first + 1) * geometry.cell + 2;
    element("rect", { x, y: geometry.gate + top, width, height: bottom - top, rx: 8, class: "touch" }, layer);
  },

  // Names of the outermost needles touched; whatever stands too near them makes way.
  nameTouched(layer, touches) {
    const named = new Set(touches.flatMap(([, flat]) => flat));
    const letter = 0.62 * geometry.nameSize;
    const { left, width } = this.view;
    const places = [];
    for (const needle of [...named].sort((one, other) => one - other)) {
      const half = (nameOf(needle).length * letter) / 2;
      const x = Math.min(Math.max(this.x(needle), left + half), left + width - half);
      if (places.some((place) => Math.abs(place.x - x) < place.half + half + 2)) continue;
      places.push({ x, half });
      this.name(layer, x, nameOf(needle), "named");
    }
    for (const { x, text } of this.names) {
      const half = (text.textContent.length * letter) / 2;
      const near = places.some((place) => Math.abs(place.x - x) < place.half + half + 4);
      text.setAttribute("visibility", near ? "hidden" : "visible");
    }
  },

  *ways(kind, first, last, target, setting) {
    const line = geometry.gate + geometry.loops;
    if (kind === "place") {
      for (let needle = first; needle <= last; needle++) {
        const end = geometry.tips[target];
        const way = end > this.tip(needle) ? 1 : -1;
        let start = way > 0 ? Math.max(this.tip(needle), geometry.loops + 4) : this.tip(needle);
        if (Math.abs(end - start) < 16) start = end - way * 16;
        const [x, y] = [this.x(needle), geometry.gate + end];
        yield `M${x} ${geometry.gate + start}V${y}M${x - 5} ${y - way * 7}L${x} ${y}L${x + 5} ${y - way * 7}`;
      }
    } else if (kind === "transfer") {
      const [from, to, y] = [this.x(first), this.x(target), geometry.gate + geometry.tips.w + 3];
      const bow = y + 22 + 2 * Math.min(8, Math.abs(target - first));
      yield `M${from} ${y}C${from} ${bow} ${to} ${bow} ${to} ${y}M${to - 5} ${y + 7}L${to} ${y}L${to + 5} ${y + 7}`;
    } else if (kind === "hang") {
      const y = geometry.gate + geometry.tips.w;
      for (let needle = first; needle <= last; needle++) {
        const x = this.x(needle);
        yield `M${x} ${y + 30}V${y}M${x - 5} ${y + 7}L${x} ${y}L${x + 5} ${y + 7}`;
      }
    } else if (kind === "wrap") {
      const [x, y] = [this.x(first), line + geometry.row];
      yield `M${x + 8} ${y - 5}C${x + 8} ${y + 17} ${x - 8} ${y + 17} ${x - 8} ${y - 3}M${x - 13} ${y + 3}L${x - 8} ${y - 4}L${x - 3} ${y + 3}`;
    } else if (kind === "cast_on" || kind === "bind_off") {
      const toRight = Boolean(setting & 1) === (kind === "cast_on");
      const ends = [this.x(first) - 4, this.x(last) + 4];
      const [from, to] = toRight ? ends : ends.reverse();
      const y = line + geometry.row + 6;
      const way = toRight ? 1 : -1;
      yield `M${from} ${y}H${to}M${to - way * 7} ${y - 5}L${to} ${y}L${to - way * 7} ${y + 5}`;
    }
  },
};
