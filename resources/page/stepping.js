// The row at hand: forward, back, kept on this device.

const at = (id) => document.getElementById(id);
const KEY = `bedview ${told.digest}`;
const BOUNCE = 250; // ms; a second press sooner than this is the same finger
const SWIPE = 50; // px
const FORWARD = new Set([" ", "ArrowRight", "PageDown", "Enter"]);
const BACKWARD = new Set(["ArrowLeft", "PageUp", "Backspace"]);

const run = { step: 0, from: null, pressed: -Infinity };

// -- words ------------------------------------------------------------------------------------------------

function item(text, kind) {
  const made = document.createElement("li");
  made.textContent = text;
  if (kind) made.classList.add(kind);
  if (text.length > 60) made.classList.add("long");
  return made;
}

function stopped(sentence) {
  return /[.!?…]$/.test(sentence) ? sentence : `${sentence}.`;
}

function actsOf(step) {
  if (step === STEPS) return [item(words.finished, "finished")];
  const [hands, carriage] = told.acts[told.steps[step][ACT]];
  const items = hands.map((place) => item(stopped(told.texts[place]), "by-hand"));
  if (carriage >= 0) {
    const towards = told.coming[told.steps[step][COMING]][0];
    items.push(item(stopped(told.texts[carriage]), towards === "r" ? "rightwards" : "leftwards"));
  }
  return items;
}

function rowWords(step) {
  const made = passesBefore[step];
  const all = passesBefore[STEPS];
  if (step === STEPS) return [words.end, ""];
  const makesPass = told.acts[told.steps[step][ACT]][CARRIAGE] >= 0;
  const row = makesPass ? words.row : made < all ? words.before : words.after;
  return [fill(row, { row: made < all ? made + 1 : all }), fill(words.of, { rows: all })];
}

function withinWords(step) {
  if (step === STEPS) return "";
  const part = told.parts.indexOf(lastNotAbove(told.parts, step));
  const next = part + 1 < told.parts.length ? told.parts[part + 1][0] : STEPS;
  const first = passesBefore[told.parts[part][0]];
  const rows = passesBefore[next] - first;
  const said = [];
  if (rows > 0 && passesBefore[step] - first < rows) {
    said.push(fill(words.within, { row: passesBefore[step] - first + 1, rows }));
  }
  if (counterAt(step) !== passesBefore[step]) said.push(fill(words.counter, { row: counterAt(step) }));
  return said.join(" · ");
}

// -- showing ----------------------------------------------------------------------------------------------

function show() {
  const { step } = run;
  const end = step === STEPS;
  const [row, of] = rowWords(step);
  const strong = document.createElement("b");
  strong.textContent = row;
  at("row").replaceChildren(strong, ` ${of}`);
  at("row-said").textContent = `${row} ${of}`;
  at("within").textContent = withinWords(step);
  at("part").textContent = STEPS && !end ? told.texts[lastNotAbove(told.parts, step)[1]] : words.end;
  at("acts").replaceChildren(...actsOf(step));
  const why = end ? -1 : told.steps[step][WHY];
  at("why").textContent = why < 0 ? "" : told.texts[why];
  const minds = told.minds.filter(([number]) => number === step).map(([, text]) => told.texts[text]);
  at("mind").textContent = minds.join(" ");
  at("mind").hidden = !minds.length;
  at("then").textContent = thenWords(step);
  at("bed-words").textContent = bedInWords(step);
  at("back").setAttribute("aria-disabled", String(step === 0));
  at("next").setAttribute("aria-disabled", String(end));
  const all = Math.max(1, passesBefore[STEPS]);
  at("done").style.transform = `scaleX(${passesBefore[step] / all})`;
  at("bar").setAttribute("aria-valuemax", passesBefore[STEPS]);
  at("bar").setAttribute("aria-valuenow", passesBefore[step]);
  document.documentElement.dataset.step = step;
  bed.show(step);
}

function thenWords(step) {
  if (step + 1 >= STEPS) return "";
  return fill(words.then, { what: told.texts[told.acts[told.steps[step + 1][ACT]][BRIEF]] });
}

// -- going ------------------------------------------------------------------------------------------------

// Goes somewhere and keeps it; `undoable` says where one is then, and lets one return.
function go(step, undoable) {
  const to = Math.min(Math.max(0, step), STEPS);
  run.from = undoable ? run.step : null;
  run.step = to;
  show();
  const said = keep();
  at("kept").textContent = undoable || said;
  at("undo").hidden = !undoable;
}

function keep() {
  const now = new Date();
  try {
    localStorage.setItem(KEY, JSON.stringify({ step: run.step, at: now.toISOString() }));
  } catch {
    return words.notKept;
  }
  const time = now.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  return fill(words.kept, { row: passesBefore[run.step], time });
}

function keptStep() {
  try {
    const { step } = JSON.parse(localStorage.getItem(KEY)) ?? {};
    return Number.isInteger(step) && step >= 0 && step <= STEPS ? step : told.begin;
  } catch {
    return told.begin;
  }
}

// One step on or back; a press that follows too soon is the first one bouncing.
function press(by, event) {
  if (event.timeStamp - run.pressed < BOUNCE) return;
  run.pressed = event.timeStamp;
  const to = run.step + by;
  if (to >= 0 && to <= STEPS) go(to);
  stayAwake();
}

// -- keys, taps, swipes -----------------------------------------------------------------------------------

function onKey(event) {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "Escape" && listing()) return showList(false);
  const onControl = event.target.closest("button, a");
  const presses = event.key === " " || event.key === "Enter";
  if (listing() || (onControl && presses)) return;
  const by = FORWARD.has(event.key) ? 1 : BACKWARD.has(event.key) ? -1 : 0;
  if (!by) return;
  event.preventDefault();
  if (!event.repeat) press(by, event);
}

function onClick(by) {
  return (event) => {
    press(by, event);
    // After a finger or mouse the keys go on working as if nothing were chosen.
    if (event.detail) event.currentTarget.blur();
  };
}

const swipe = { id: null, x: 0, y: 0 };

function onSwipeStart(event) {
  if (!event.isPrimary || event.target.closest("button")) return;
  Object.assign(swipe, { id: event.pointerId, x: event.clientX, y: event.clientY });
}

function onSwipeEnd(event) {
  if (event.pointerId !== swipe.id) return;
  swipe.id = null;
  const [across, down] = [event.clientX - swipe.x, event.clientY - swipe.y];
  if (Math.abs(across) < SWIPE || Math.abs(across) < 2 * Math.abs(down)) return;
  press(across < 0 ? 1 : -1, event);
}

// -- the list of all rows ---------------------------------------------------------------------------------

function listing() {
  return document.documentElement.classList.contains("listing");
}

function showList(open) {
  document.documentElement.classList.toggle("listing", open);
  at("list-button").setAttribute("aria-expanded", String(open));
  if (!open) {
    at("list-button").focus();
    return bed.frame();
  }
  for (const old of at("list").querySelectorAll(".here")) {
    old.classList.remove("here");
    old.removeAttribute("aria-current");
  }
  const here = at("list").querySelector(`a[data-step="${run.step}"]`);
  if (!here) return scrollTo(0, 0);
  here.classList.add("here");
  here.setAttribute("aria-current", "step");
  here.scrollIntoView({ block: "center" });
  here.focus({ preventScroll: true });
}

function onRow(event) {
  const row = event.target.closest("a[data-step]");
  if (!row) return;
  event.preventDefault();
  showList(false);
  const to = Number(row.dataset.step);
  if (to !== run.step) go(to, fill(words.went, { row: passesBefore[to] + 1 }));
}

// -- staying awake ----------------------------------------------------------------------------------------

let awake = null;

// A phone beside the machine should not go dark between two rows. Where it cannot be asked, it goes dark.
async function stayAwake() {
  if (awake || !("wakeLock" in navigator) || document.visibilityState !== "visible") return;
  try {
    awake = await navigator.wakeLock.request("screen");
    awake.addEventListener("release", () => { awake = null; });
  } catch {
    awake = null;
  }
}

// -- beginning --------------------------------------------------------------------------------------------

document.documentElement.classList.add("stepping");
at("work").hidden = false;
at("next").addEventListener("click", onClick(1));
at("back").addEventListener("click", onClick(-1));
at("again").addEventListener("click", () => { if (run.step !== told.begin) go(told.begin, words.started); });
at("undo").addEventListener("click", () => {
  go(run.from);
  at("next").focus();
});
at("list-button").addEventListener("click", () => showList(true));
at("list-close").addEventListener("click", () => showList(false));
at("list").addEventListener("click", onRow);
at("work").addEventListener("pointerdown", onSwipeStart);
at("work").addEventListener("pointerup", onSwipeEnd);
document.addEventListener("keydown", onKey);
document.addEventListener("visibilitychange", () => { if (run.pressed > 0) stayAwake(); });
bed.build();
run.step = keptStep();
show();
