// The last courses of fabric, hanging from their needles: a held stretch stays short, and courses climb to it.

const KEPT_EVERY = 32; // steps between two states of the wales that are kept to start from
const CURVED_CELL = 5; // px; below this a course is drawn as a straight line from loop to loop

const fabric = {
  layer: document.getElementById("fabric"),
  kept: new Map(),
  told: new Map(told.wales),
  courses: new Map(), // step that made it -> its elements, and the depth of each of its loops
  at: 0,
  wales: null,
  curved: true,

  // For each needle the steps that made its loops, the newest first.
  walesAt(step) {
    if (this.wales && (this.at === step || this.at === step - 1)) {
      return this.at === step ? this.wales : this.next(this.wales, this.at);
    }
    let from = step - (step % KEPT_EVERY);
    while (from > 0 && !this.kept.has(from)) from -= KEPT_EVERY;
    let wales = this.kept.get(from);
    if (!wales) {
      wales = this.corrected(new Array(told.last - told.first + 1).fill([]), 0);
      this.kept.set(0, wales);
    }
    for (let at = from; at < step; at++) {
      wales = this.next(wales, at);
      if ((at + 1) % KEPT_EVERY === 0) this.kept.set(at + 1, wales);
    }
    return wales;
  },

  next(wales, step) {
    const next = wales.slice();
    const coming = told.steps[step][COMING];
    if (coming >= 0) {
      const [, knit, , dropped] = told.coming[coming];
      for (const [first, last] of stretchesOf(knit)) {
        for (let place = first - told.first; place <= last - told.first; place++) {
          next[place] = [step, ...wales[place].slice(0, geometry.depth - 1)];
        }
      }
      for (const [first, last] of stretchesOf(dropped)) next.fill([], first - told.first, last - told.first + 1);
    }
    return this.corrected(next, step + 1);
  },

  corrected(wales, step) {
    for (const [first, last, wale] of this.told.get(step) ?? []) {
      wales.fill(wale, first - told.first, last - told.first + 1);
    }
    return wales;
  },

  show(step) {
    this.wales = this.walesAt(step);
    this.at = step;
    const curved = (bed.root.clientWidth / bed.view.width) * geometry.cell >= CURVED_CELL;
    if (curved !== this.curved) {
      this.curved = curved;
      this.courses.clear();
      this.layer.replaceChildren();
    }
    const seen = this.seen();
    for (const [made, course] of this.courses) {
      if (!seen.has(made)) {
        course.group.remove();
        this.courses.delete(made);
      }
    }
    for (const [made, depths] of [...seen].sort(([one], [other]) => one - other)) this.draw(made, depths);
  },

  // For each course in sight: the depth of its loops by the place of their needle.
  seen() {
    const seen = new Map();
    this.wales.forEach((wale, place) => {
      wale.forEach((made, depth) => {
        if (!seen.has(made)) seen.set(made, []);
        const loops = seen.get(made);
        if (loops.at(-1)?.[0] !== place) loops.push([place, depth]);
      });
    });
    return seen;
  },

  // A course that has only moved down is moved; one that bends otherwise is drawn anew.
  draw(made, loops) {
    let course = this.courses.get(made);
    const down = course ? this.movedBy(course.loops, loops) : null;
    if (down !== null) {
      if (down !== course.down) {
        course.down = down;
        course.group.setAttribute("transform", `translate(0 ${down * geometry.row})`);
      }
      return;
    }
    if (!course) {
      course = { group: element("g", {}), lines: this.lines(made) };
      course.group.append(...course.lines);
      this.layer.append(course.group);
      this.courses.set(made, course);
    }
    const path = this.path(loops);
    for (const line of course.lines) line.setAttribute("d", path);
    course.group.removeAttribute("transform");
    Object.assign(course, { loops, down: 0 });
  },

  movedBy(before, now) {
    if (before.length !== now.length) return null;
    const by = now[0][1] - before[0][1];
    for (let place = 0; place < now.length; place++) {
      if (now[place][0] !== before[place][0] || now[place][1] - before[place][1] !== by) return null;
    }
    return by;
  },

  lines(made) {
    const after = told.settings[told.steps[made + 1][SETTING] >> 1][2];
    const [rim, light, body, role] = told.strands[Math.max(0, after)];
    const shade = passesBefore[made] % 2 ? body : light;
    return [
      element("path", { class: `line course rim ${rim} ${role}` }),
      element("path", { class: `line course ${shade} ${role}` }),
    ];
  },

  path(loops) {
    const top = geometry.gate + geometry.loops + 0.1 * geometry.row;
    const low = 0.95 * geometry.row;
    const [half, arm] = [geometry.cell / 2, geometry.cell * 0.36];
    let path = "";
    for (let place = 0; place < loops.length; place++) {
      const [needle, depth] = loops[place];
      const [x, y] = [geometry.left + (needle + 0.5) * geometry.cell, top + depth * geometry.row];
      const before = loops[place - 1];
      const after = loops[place + 1];
      if (!this.curved) {
        path += before?.[0] === needle - 1 ? `L${x} ${y}` : `M${x - half} ${y}H${x}`;
        if (after?.[0] !== needle + 1) path += `h${half}`;
        continue;
      }
      if (before?.[0] !== needle - 1) path += `M${x - half} ${y + low}`;
      path += `S${x - arm} ${y} ${x} ${y}`;
      const beside = after?.[0] === needle + 1 ? after[1] : depth;
      const between = top + ((depth + beside) / 2) * geometry.row + low;
      path += `S${x + half - 0.3 * arm} ${between} ${x + half} ${between}`;
    }
    return path;
  },
};
