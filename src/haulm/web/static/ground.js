// The drawing board of a bed. Figures, checks and units are the server's: what is drawn is written
// into the form's fields, the fields are measured by /outline, and the answer is shown. Without this
// script the fields alone do.

const form = document.getElementById('bed');
const board = document.getElementById('board');
const step = document.getElementById('step');
const spoken = document.getElementById('spoken');
const fault = document.getElementById('outline-fault');
const list = form.querySelector('.corners tbody');
const US = form.dataset.units === 'us';
const INCH = 0.0254;
const LEAST_STEP = US ? INCH / 4 : 0.01;
const ROOM = 56;
const SVG = 'http://www.w3.org/2000/svg';

const picture = document.createElementNS(SVG, 'g');
const grips = document.createElementNS(SVG, 'g');

let corners = [];
let round = null;
let faulty = false;
let lengths = [];
let view = {scale: 40, east: 0, north: 0};
let held = null;
let asking = 0;
let timer = 0;
let speaking = 0;
let now = '';
const before = [];
const after = [];

const sizeField = (name) => document.getElementById(name);
const way = () => form.elements.way.value;
const chooseWay = (value) => { form.elements.way.value = value; };
const rows = () => [...list.rows];
const cell = (row, is) => row.querySelector(`[data-is="${is}"]`);
const stepSize = () => Number(step.value) || LEAST_STEP;

// What a length reads as when it is typed again: to the centimetre, or the quarter of an inch.
function typed(metres) {
  if (!US) return `${String(Math.round(metres * 100) / 100).replace('.', form.dataset.mark)} m`;
  const inches = Math.round(Math.abs(metres) / INCH * 4) / 4;
  const feet = Math.floor(inches / 12);
  const rest = String(inches - 12 * feet).replace('.', form.dataset.mark);
  const words = [feet ? `${feet} ft` : '', rest !== '0' || !feet ? `${rest} in` : ''];
  return (metres < 0 && inches ? '-' : '') + words.filter(Boolean).join(' ');
}

const snapped = (metres) => Math.round(metres / stepSize()) * stepSize();

// The list of corners: as many lines as there are corners, the last side closing the outline.

function setRows(texts) {
  while (list.rows.length > Math.max(texts.length, 1)) list.lastElementChild.remove();
  while (list.rows.length < texts.length) list.append(list.rows[0].cloneNode(true));
  rows().forEach((row, at) => {
    if (!texts[at]) return;
    setText(cell(row, 'east'), texts[at][0]);
    setText(cell(row, 'north'), texts[at][1]);
  });
  nameRows();
}

function setText(field, text) {
  if (field !== document.activeElement || field.value.trim() !== text) field.value = text;
}

function nameRows() {
  const all = rows();
  all.forEach((row, at) => {
    row.className = '';
    row.cells[0].textContent = at + 1;
    row.querySelectorAll('[data-label]').forEach((one) => {
      one.setAttribute('aria-label', one.dataset.label.replace('{n}', at + 1));
      one.removeAttribute('id');
    });
    row.querySelectorAll('input[type="hidden"], .fault').forEach((one) => one.remove());
    for (const is of ['side', 'turn']) {
      const field = cell(row, is);
      field.readOnly = at === all.length - 1;
      field.name = field.readOnly ? '' : is;
    }
    const [add, drop] = row.querySelectorAll('button');
    add.value = `after-${at}`;
    drop.value = `drop-${at}`;
  });
}

function setSides(sides, all) {
  rows().forEach((row, at) => {
    if (!sides[at] || !(all || at === list.rows.length - 1)) return;
    cell(row, 'side').value = sides[at][0];
    cell(row, 'turn').value = sides[at][1];
  });
}

// Undoing: each settled state of the outline's fields is kept.

// Only what the chosen way goes by: measuring fills in the rest.
function state() {
  const byCorners = way() === 'corners';
  const fields = byCorners ? [] : ['width', 'length', 'diameter'].map((name) => sizeField(name).value);
  const texts = byCorners ? rows().map((row) => [cell(row, 'east').value, cell(row, 'north').value]) : [];
  return JSON.stringify({way: way(), fields, texts});
}

function settle() {
  const next = state();
  if (next === now) return;
  before.push(now);
  after.length = 0;
  now = next;
  unwritten();
  showUndo();
}

function goTo(from, to) {
  if (!from.length) return;
  to.push(now);
  now = from.pop();
  const {way: chosen, fields, texts} = JSON.parse(now);
  chooseWay(chosen);
  ['width', 'length', 'diameter'].forEach((name, at) => { sizeField(name).value = fields[at] ?? sizeField(name).value; });
  if (texts.length) setRows(texts);
  showUndo();
  unwritten();
  measure('typed');
}

// What was typed last may still be being measured; it is what is taken back.
function takeBack() {
  settle();
  goTo(before, after);
}

function showUndo() {
  form.querySelector('[data-do="back"]').disabled = !before.length;
  form.querySelector('[data-do="again"]').disabled = !after.length;
}

function unwritten() {
  form.querySelector('.unwritten').hidden = false;
}

// Measuring: the server reads the fields.

function ask(from) {
  clearTimeout(timer);
  // An answer still on its way is of an outline that is no longer there.
  asking += 1;
  timer = setTimeout(() => measure(from), 120);
}

async function measure(from) {
  clearTimeout(timer);
  const turn = ++asking;
  const body = new FormData(form);
  if (from === 'sides') body.set('way', 'sides');
  const answer = await fetch('/outline', {method: 'POST', body}).catch(() => null);
  if (turn !== asking) return;
  if (answer?.ok) take(await answer.json(), from);
}

function take(told, from) {
  const reasons = Object.entries(told.faults);
  faulty = reasons.length > 0;
  fault.textContent = reasons.map((one) => one[1]).join(' ');
  fault.hidden = !faulty;
  form.querySelectorAll('.sizes [aria-invalid]').forEach((one) => one.removeAttribute('aria-invalid'));
  for (const [key] of reasons) markFault(...key.split('.'));
  if (from !== 'drawn') {
    corners = told.corners;
    round = told.across ?? (way() === 'round' ? round : null);
  }
  if (!faulty) fill(told, from);
  lengths = told.lengths;
  form.querySelector('#said strong').textContent = told.said;
  if (from !== 'drawn' && held === null) whole();
  draw();
  if (from === 'first') now = state();
  else say(told.said);
}

function markFault(key, line) {
  const field = line === undefined ? sizeField(key) : rows()[line] && cell(rows()[line], key === 'sides' ? 'side' : 'east');
  if (field instanceof HTMLElement) field.setAttribute('aria-invalid', 'true');
}

function fill(told, from) {
  for (const name of ['width', 'length', 'diameter']) {
    const chosen = way() === 'round' ? name === 'diameter' : way() === 'rectangle' && name !== 'diameter';
    if (!chosen) sizeField(name).value = told.filled[name];
  }
  if (from === 'sides' || way() !== 'corners') setRows(told.filled.corners);
  if (way() === 'corners') setSides(told.sides, from !== 'sides');
}

// Speaking waits until the hand rests.
function say(words) {
  clearTimeout(speaking);
  const corner = held === null ? '' : board.querySelectorAll('button')[held]?.getAttribute('aria-label') ?? '';
  speaking = setTimeout(() => { spoken.textContent = [corner, fault.textContent || words].filter(Boolean).join('. '); }, 500);
}

// Drawing.

const toX = (east) => board.clientWidth / 2 + (east - view.east) * view.scale;
const toY = (north) => board.clientHeight / 2 - (north - view.north) * view.scale;

function handles() {
  if (way() === 'round') return round ? [[round, round / 2]] : [];
  return corners;
}

function bounds() {
  const all = way() === 'round' && round ? [[0, 0], [round, round]] : corners;
  const axis = (at) => all.map((corner) => corner[at]);
  return {low: [0, 1].map((at) => Math.min(...axis(at))), high: [0, 1].map((at) => Math.max(...axis(at))), any: all.length > 0};
}

function whole() {
  const {low, high, any} = bounds();
  if (!any) return;
  const wide = (board.clientWidth - 2 * ROOM) / Math.max(high[0] - low[0], 0.05);
  const tall = (board.clientHeight - 2 * ROOM) / Math.max(high[1] - low[1], 0.05);
  view = {scale: Math.min(wide, tall), east: (low[0] + high[0]) / 2, north: (low[1] + high[1]) / 2};
}

function shape(name, attributes, words) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  if (words) one.textContent = words;
  return one;
}

function grid() {
  const unit = US ? 12 * INCH : 1;
  const fine = [stepSize(), unit / 2, unit, 5 * unit, 10 * unit, 50 * unit].find((size) => size * view.scale >= 14) ?? 100 * unit;
  const path = (size) => {
    const parts = [];
    const reach = [board.clientWidth / 2 / view.scale, board.clientHeight / 2 / view.scale];
    for (let at = Math.ceil((view.east - reach[0]) / size); at * size <= view.east + reach[0]; at++) parts.push(`M${toX(at * size)} 0V${board.clientHeight}`);
    for (let at = Math.ceil((view.north - reach[1]) / size); at * size <= view.north + reach[1]; at++) parts.push(`M0 ${toY(at * size)}H${board.clientWidth}`);
    return parts.join('');
  };
  const lines = [shape('path', {class: 'line', d: path(fine)})];
  if (fine < unit) lines.push(shape('path', {class: 'metre', d: path(unit)}));
  return lines;
}

// Where a side's length stands: beside its middle, outside the bed.
function outside(from, to) {
  const area = corners.reduce((sum, [x, y], at) => {
    const next = corners[(at + 1) % corners.length];
    return sum + x * next[1] - next[0] * y;
  }, 0);
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) * (area < 0 ? -1 : 1);
  const away = [(from[1] - to[1]) / long * 30, (to[0] - from[0]) / long * 16];
  return {x: (from[0] + to[0]) / 2 + away[0], y: (from[1] + to[1]) / 2 + 5 + away[1]};
}

function draw() {
  const drawn = [...grid()];
  const kind = faulty ? 'edge faulty' : 'edge';
  if (way() === 'round') {
    if (round) drawn.push(shape('circle', {class: kind, cx: toX(round / 2), cy: toY(round / 2), r: round / 2 * view.scale}));
  } else {
    const points = corners.map(([x, y]) => [toX(x), toY(y)]);
    drawn.push(shape('polygon', {class: kind, points: points.join(' ')}));
    points.forEach((from, at) => {
      const to = points[(at + 1) % points.length];
      if (Math.hypot(to[0] - from[0], to[1] - from[1]) > 64 && lengths[at] && lengths.length === points.length) {
        drawn.push(shape('text', outside(from, to), lengths[at]));
      }
    });
  }
  drawn.push(shape('text', {class: 'north', x: 20, y: 24}, 'N'), shape('path', {class: 'edge', d: 'M20 46V30M15 36L20 30L25 36'}));
  board.dataset.scale = view.scale;
  picture.replaceChildren(...drawn);
  placeGrips();
  placeButtons();
}

// What a finger rests on must stay where it is: edges and corners are moved, never made anew.
function placeGrips() {
  const ends = way() === 'round' ? [] : corners.map(([x, y]) => [toX(x), toY(y)]);
  while (grips.children.length > ends.length) grips.lastElementChild.remove();
  while (grips.children.length < ends.length) grips.append(shape('line', {class: 'grip', 'data-edge': grips.children.length}));
  [...grips.children].forEach((grip, at) => {
    const to = ends[(at + 1) % ends.length];
    const line = {x1: ends[at][0], y1: ends[at][1], x2: to[0], y2: to[1]};
    for (const [key, value] of Object.entries(line)) grip.setAttribute(key, value);
  });
}

function placeButtons() {
  const all = handles();
  while (board.querySelectorAll('button').length > all.length) board.lastElementChild.remove();
  while (board.querySelectorAll('button').length < all.length) {
    board.append(Object.assign(document.createElement('button'), {type: 'button'}));
  }
  board.querySelectorAll('button').forEach((button, at) => {
    button.style.left = `${toX(all[at][0])}px`;
    button.style.top = `${toY(all[at][1])}px`;
    button.textContent = way() === 'round' ? '↔' : at + 1;
    const words = way() === 'round' ? board.dataset.across.replace('{across}', sizeField('diameter').value)
      : board.dataset.corner.replace('{n}', at + 1).replace('{east}', typed(all[at][0])).replace('{north}', typed(all[at][1]));
    button.setAttribute('aria-label', words);
  });
}

// Moving.

function move(at, east, north) {
  if (way() === 'round') {
    round = Math.max(2 * Math.abs(east - round / 2), LEAST_STEP);
    sizeField('diameter').value = typed(round);
  } else if (way() === 'rectangle') {
    const [one, other] = at % 2 ? [0, 1] : [1, 0];
    corners[at] = [east, north];
    corners[(at + 1) % 4][one] = corners[at][one];
    corners[(at + 3) % 4][other] = corners[at][other];
    sizeField('width').value = typed(Math.abs(corners[0][0] - corners[2][0]));
    sizeField('length').value = typed(Math.abs(corners[0][1] - corners[2][1]));
    // The list follows at once, in case the outline is to go by its corners before it is measured.
    const {low} = bounds();
    setRows(corners.map((corner) => corner.map((place, axis) => typed(place - low[axis]))));
  } else {
    corners[at] = [east, north];
    const row = rows()[at];
    cell(row, 'east').value = typed(east);
    cell(row, 'north').value = typed(north);
  }
  lengths = [];
  draw();
  ask('drawn');
}

// Corners are added and taken out of outlines; a rectangle becomes one first.
function add(at, point) {
  if (way() === 'round') return;
  chooseWay('corners');
  const next = corners[(at + 1) % corners.length];
  const middle = [0, 1].map((axis) => (corners[at][axis] + next[axis]) / 2);
  corners.splice(at + 1, 0, point ?? middle);
  const texts = rows().map((row) => [cell(row, 'east').value, cell(row, 'north').value]);
  texts.splice(at + 1, 0, corners[at + 1].map(typed));
  setRows(texts);
  draw();
  board.querySelectorAll('button')[at + 1].focus();
  settle();
  ask('drawn');
}

function drop(at) {
  if (way() === 'round' || corners.length <= 3) return;
  chooseWay('corners');
  corners.splice(at, 1);
  const texts = rows().map((row) => [cell(row, 'east').value, cell(row, 'north').value]);
  texts.splice(at, 1);
  setRows(texts);
  draw();
  board.querySelectorAll('button')[Math.min(at, corners.length - 1)].focus();
  settle();
  ask('drawn');
}

// The rectangle was drawn with its corners where they lay; measuring sets it back to its south-west.
function rest() {
  held = null;
  board.querySelector('.held')?.classList.remove('held');
  const {low, high} = bounds();
  const inside = toX(low[0]) > 8 && toX(high[0]) < board.clientWidth - 8 && toY(high[1]) > 8 && toY(low[1]) < board.clientHeight - 8;
  if (!inside) whole();
  draw();
  settle();
  ask('drawn');
}

const pointOf = (event) => {
  const box = board.getBoundingClientRect();
  return [
    view.east + (event.clientX - box.left - board.clientLeft - board.clientWidth / 2) / view.scale,
    view.north - (event.clientY - box.top - board.clientTop - board.clientHeight / 2) / view.scale,
  ];
};

board.addEventListener('pointerdown', (event) => {
  if (event.button) return;
  let button = event.target.closest('button');
  const edge = event.target.dataset?.edge;
  if (edge !== undefined) {
    event.preventDefault();
    add(Number(edge), pointOf(event).map(snapped));
    button = board.querySelectorAll('button')[Number(edge) + 1];
  }
  if (!button) return;
  held = [...board.querySelectorAll('button')].indexOf(button);
  button.setPointerCapture(event.pointerId);
  button.classList.add('held');
});

// A finger on an edge draws; elsewhere on the board it moves the page.
board.addEventListener('touchstart', (event) => {
  if (event.target.dataset?.edge !== undefined) event.preventDefault();
}, {passive: false});

board.addEventListener('pointermove', (event) => {
  if (held === null) return;
  move(held, ...pointOf(event).map(snapped));
});

for (const name of ['pointerup', 'pointercancel']) {
  board.addEventListener(name, () => { if (held !== null) rest(); });
}

const ARROWS = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowDown: [0, -1], ArrowUp: [0, 1]};

board.addEventListener('keydown', (event) => {
  const at = [...board.querySelectorAll('button')].indexOf(event.target);
  if (at < 0 || event.ctrlKey || event.metaKey || event.altKey) return;
  const by = ARROWS[event.key];
  if (by) {
    const size = stepSize() * (event.shiftKey ? 10 : 1);
    const from = handles()[at];
    held = at;
    move(at, from[0] + by[0] * size, from[1] + by[1] * size);
    rest();
  } else if (event.key === '+') add(at);
  else if (event.key === 'Delete' || event.key === 'Backspace') drop(at);
  else return;
  event.preventDefault();
});

document.addEventListener('keydown', (event) => {
  const typing = event.target.matches('input:not([type="radio"]), textarea, select');
  if (typing || !(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey) takeBack();
  else if (key === 'y' || key === 'z') goTo(after, before);
  else return;
  event.preventDefault();
});

// Typing.

form.addEventListener('input', (event) => {
  const {is} = event.target.dataset;
  unwritten();
  if (is === 'side' || is === 'turn') ask('sides');
  else if (event.target.closest('.sizes')) ask('typed');
});

form.addEventListener('change', async (event) => {
  if (event.target === step) draw();
  if (!event.target.closest('.sizes')) return;
  const {is} = event.target.dataset;
  const full = rows().map((row) => [cell(row, 'east').value, cell(row, 'north').value]).filter((line) => line.join('').trim());
  if (full.length >= 3 && full.length < list.rows.length) setRows(full);
  await measure(is === 'side' || is === 'turn' ? 'sides' : 'typed');
  settle();
});

form.addEventListener('click', (event) => {
  const button = event.target.closest('button');
  const act = button?.dataset.do;
  if (act === 'back') takeBack();
  if (act === 'again') goTo(after, before);
  if (act === 'whole') whole();
  if (act === 'closer' || act === 'further') view.scale *= act === 'closer' ? 1.25 : 0.8;
  if (act) draw();
  const line = button?.closest('.line-acts') && rows().indexOf(button.closest('tr'));
  if (!Number.isInteger(line)) return;
  event.preventDefault();
  if (button.value.startsWith('after')) add(line);
  else drop(line);
});

function begin() {
  form.classList.add('moving');
  board.classList.add('drawing-on');
  const svg = shape('svg', {'aria-hidden': 'true'});
  svg.append(picture, grips);
  board.replaceChildren(svg);
  form.querySelector('.board-row').hidden = false;
  document.getElementById('board-keys').hidden = false;
  if (way() === 'sides') chooseWay('corners');
  const texts = rows().filter((row) => !row.classList.contains('spare'))
    .map((row) => [cell(row, 'east').value, cell(row, 'north').value]);
  setRows(texts.filter((line) => line.join('').trim()));
  measure('first');
  addEventListener('resize', () => { whole(); draw(); });
}

begin();
