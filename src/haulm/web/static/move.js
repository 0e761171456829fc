// The planting that is opened is moved by hand: dragged onto another bed, or along its own to
// another week. A drop fills in the form beneath, which does the same by keys, and sends it.
// A finger does not drag: on a touch screen the strips are there to be scrolled.

const strips = document.querySelector('.strips');
const forms = document.querySelector('.settle');
const beds = document.getElementById('bed-for-it');
const weeks = document.getElementById('week');
const address = decodeURIComponent(location.pathname);
const FAR_PX = 8;
const WEEK_MS = 7 * 24 * 3600 * 1000;
let drag = null;
let dropped = false;

const ours = () => [...strips.querySelectorAll('.patch')].filter((link) => decodeURIComponent(link.getAttribute('href')) === address);
const rowAt = (event) => document.elementsFromPoint(event.clientX, event.clientY).map((one) => one.closest('.strip.bed')).find(Boolean);
const optionOf = (list, value) => [...(list?.options ?? [])].find((option) => option.value === value);

function targetOf(event) {
  const row = rowAt(event);
  if (row && row.dataset.bed !== forms.dataset.bed) return {list: beds, option: optionOf(beds, row.dataset.bed)};
  const by = Math.round((event.clientX - drag.x) / Number(forms.dataset.weekPx));
  if (!by) return null;
  const day = new Date(Date.parse(forms.dataset.sowOn) + by * WEEK_MS).toISOString().slice(0, 10);
  return {list: weeks, option: optionOf(weeks, day)};
}

function wordsOf(target) {
  if (!target) return forms.dataset.stays;
  if (!target.option) return forms.dataset.cannot;
  return (target.list === beds ? forms.dataset.toBed : forms.dataset.toWeek).replace('{to}', target.option.text);
}

function begin(event) {
  const box = drag.link.querySelector('.frame').getBoundingClientRect();
  drag.ghost = Object.assign(document.createElement('p'), {className: 'moving'});
  document.body.append(drag.ghost);
  drag.ghost.style.width = `${box.width}px`;
  drag.ghost.style.minHeight = `${box.height}px`;
  drag.from = [box.left - event.clientX, box.top - event.clientY];
}

function follow(event) {
  if (!drag) return;
  if (!drag.ghost && Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < FAR_PX) return;
  if (!drag.ghost) begin(event);
  drag.target = targetOf(event);
  drag.ghost.classList.toggle('cannot', Boolean(drag.target && !drag.target.option));
  drag.ghost.textContent = wordsOf(drag.target);
  drag.ghost.style.left = `${event.clientX + drag.from[0]}px`;
  drag.ghost.style.top = `${event.clientY + drag.from[1]}px`;
}

function end() {
  const {ghost, target} = drag ?? {};
  drag = null;
  dropped = Boolean(ghost);
  ghost?.remove();
  if (!target?.option) return;
  target.list.value = target.option.value;
  target.list.form.requestSubmit();
}

// The press that ends a drag opens nothing.
strips.addEventListener('click', (event) => { if (dropped) event.preventDefault(); dropped = false; }, true);
strips.addEventListener('dragstart', (event) => event.preventDefault());
strips.addEventListener('pointerdown', (event) => {
  const link = event.target.closest('.patch');
  if (event.button || event.pointerType === 'touch' || !ours().includes(link)) return;
  dropped = false;
  drag = {link, x: event.clientX, y: event.clientY};
});
document.addEventListener('pointermove', follow);
document.addEventListener('pointerup', end);
document.addEventListener('pointercancel', () => { drag?.ghost?.remove(); drag = null; });
document.addEventListener('keydown', (event) => {
  if (event.key !== 'Escape' || !drag) return;
  drag.ghost?.remove();
  drag = null;
});
for (const link of forms ? ours() : []) link.classList.add('movable');
