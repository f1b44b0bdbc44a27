// What the page was told: tables in which a step's six numbers point at what differs.

const told = JSON.parse(document.getElementById("told").textContent);
const { words, geometry } = told;
const STEPS = told.steps.length - 1; // the last one is the bed when all is done
const [BED, SETTING, TIP, ACT, WHY, COMING] = [0, 1, 2, 3, 4, 5];
const [HANDS, CARRIAGE, BRIEF, TOUCHES] = [0, 1, 2, 3];

// Passes made before each step, and before the end.
const passesBefore = new Int32Array(STEPS + 1);
const takenBack = new Map(told.back);
for (let step = 0; step < STEPS; step++) {
  const made = told.acts[told.steps[step][ACT]][CARRIAGE] >= 0 ? 1 : 0;
  passesBefore[step + 1] = passesBefore[step] + made - (takenBack.get(step) ?? 0);
}

function fill(sentence, values) {
  return sentence.replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

// "38a1b" is 38 needles of kind 0 and one of kind 1, from the left.
function cellsOf(state) {
  const cells = [];
  for (const [, count, letters] of state.matchAll(/(\d+)([a-z]+)/g)) {
    let kind = 0;
    for (const letter of letters) kind = kind * 26 + letter.charCodeAt(0) - 97;
    for (let left = Number(count); left > 0; left--) cells.push(kind);
  }
  return cells;
}

// The last row of a table whose first number is not above what is sought.
function lastNotAbove(rows, sought) {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle][0] <= sought) low = middle + 1;
    else high = middle;
  }
  return rows[low - 1];
}

function counterAt(step) {
  return passesBefore[step] + lastNotAbove(told.counters, step)[1];
}

function* stretchesOf(flat) {
  for (let place = 0; place < flat.length; place += 2) yield [flat[place], flat[place + 1]];
}

function nameOf(needle) {
  const half = told.needles / 2;
  return needle < half ? `L${half - needle}` : `R${needle - half + 1}`;
}

function namesOf(first, last) {
  return first === last ? nameOf(first) : fill(words.stretch, { first: nameOf(first), last: nameOf(last) });
}

// The bed for those who do not see the picture.
function bedInWords(step) {
  const [bed, setting, , , ,] = told.steps[step];
  const cells = cellsOf(told.states[bed]);
  const said = [];
  const wrapped = [];
  for (let start = 0; start < cells.length; ) {
    let end = start;
    const position = told.cells[cells[start]][0];
    while (end < cells.length && told.cells[cells[end]][0] === position) {
      if (told.cells[cells[end]][2]) wrapped.push(nameOf(told.first + end));
      end++;
    }
    if (position !== "o") {
      said.push(`${namesOf(told.first + start, told.first + end - 1)} ${words.positions[position]}`);
    }
    start = end;
  }
  if (!said.length) said.push(words.allOut);
  if (wrapped.length) said.push(fill(words.wraps, { needles: wrapped.join(", ") }));
  const [, cams, feeder] = told.settings[setting >> 1];
  said.push(setting & 1 ? words.carriageRight : words.carriageLeft);
  said.push(cams ? words.camsOn : words.camsOff);
  said.push(feeder < 0 ? words.noYarn : fill(words.inFeeder, { yarn: told.yarns[feeder] }));
  said.push(fill(words.counter, { row: counterAt(step) }));
  return said.join(", ");
}
