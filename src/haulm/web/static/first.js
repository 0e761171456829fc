// Towns offered while a name is typed: a combobox with a listbox, as WAI-ARIA describes it. Without
// this script the form is sent as it is, and towns that may be meant are offered on the next page.

const WAIT_MS = 150;
const field = document.getElementById('place_name');
const chosen = document.querySelector('input[type="hidden"][name="town"]');
const list = Object.assign(document.createElement('ul'), {id: 'towns', hidden: true});
const told = Object.assign(document.createElement('p'), {className: 'sr'});
let offered = [];
let active = -1;
let asked = 0;
let timer;

function close() {
  list.hidden = true;
  active = -1;
  field.setAttribute('aria-expanded', 'false');
  field.removeAttribute('aria-activedescendant');
}

function mark(number) {
  active = (number + offered.length) % offered.length;
  [...list.children].forEach((option, at) => option.setAttribute('aria-selected', String(at === active)));
  field.setAttribute('aria-activedescendant', list.children[active].id);
  list.children[active].scrollIntoView({block: 'nearest'});
}

function take(number) {
  field.value = offered[number].name;
  chosen.value = offered[number].key;
  chosen.disabled = false;
  document.querySelector('.which')?.remove();
  close();
}

function offer(towns) {
  offered = towns;
  list.replaceChildren(...towns.map((town, at) => {
    const option = document.createElement('li');
    option.id = `town-${at}`;
    option.setAttribute('role', 'option');
    option.setAttribute('aria-selected', 'false');
    option.textContent = town.name;
    option.addEventListener('mousedown', (event) => event.preventDefault());
    option.addEventListener('click', () => take(at));
    return option;
  }));
  told.textContent = list.dataset.found.replace('0', String(towns.length));
  active = -1;
  field.removeAttribute('aria-activedescendant');
  list.hidden = towns.length === 0;
  field.setAttribute('aria-expanded', String(towns.length > 0));
}

async function ask() {
  const mine = ++asked;
  const answer = await fetch(`/towns?like=${encodeURIComponent(field.value)}`).catch(() => null);
  if (mine === asked && answer?.ok && document.activeElement === field) offer(await answer.json());
}

function typed() {
  chosen.value = '';
  clearTimeout(timer);
  if (field.value.trim().length < 2) return close();
  timer = setTimeout(ask, WAIT_MS);
}

function pressed(event) {
  if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
    event.preventDefault();
    if (list.hidden) return ask();
    mark(active + (event.key === 'ArrowDown' ? 1 : active < 0 ? 0 : -1));
  } else if (event.key === 'Enter' && !list.hidden && active >= 0) {
    event.preventDefault();
    take(active);
  } else if (event.key === 'Escape' && !list.hidden) {
    event.preventDefault();
    close();
  }
}

if (field) {
  list.setAttribute('role', 'listbox');
  list.setAttribute('aria-label', field.closest('.towns').dataset.name);
  list.dataset.found = field.closest('.towns').dataset.found;
  told.setAttribute('role', 'status');
  field.after(list);
  field.closest('.towns').append(told);
  field.setAttribute('role', 'combobox');
  field.setAttribute('aria-autocomplete', 'list');
  field.setAttribute('aria-expanded', 'false');
  field.setAttribute('aria-controls', 'towns');
  field.addEventListener('input', typed);
  field.addEventListener('keydown', pressed);
  field.addEventListener('blur', () => {
    ++asked;
    clearTimeout(timer);
    close();
  });
}
