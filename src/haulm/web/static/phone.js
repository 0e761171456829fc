// The diary on a phone. Everything is kept here first, then sent; see phone_store.js.

const setup = JSON.parse(document.getElementById('setup').textContent);
const {words, kinds, groups, labels, choices} = setup;
const {dataset} = document.body;
const [{openStore}, {sender, ask, localTime}, {smaller}] = await Promise.all(
  [import(dataset.store), import(dataset.send), import(dataset.photo)]);

const CLOCK_APART_MIN = 10;
const AGAIN_S = 30;
const FIRST_OFFERED = 6;
const FIND_FROM = 20;
const OF_WHAT = ['planting', 'bed', 'crop_kind', 'food'];
const PLACES = ['store', 'form'];
const main = document.getElementById('main');

const state = {entries: [], carried: null, weeks: [], how: '', told: [], clock: 0, view: null};
const store = await openStore().catch(() => null);
let send = null;

/* Small pieces */

function h(tag, attributes, ...children) {
  const element = document.createElement(tag);
  Object.entries(attributes ?? {}).forEach(([name, value]) => {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false && value != null) element.setAttribute(name, value);
  });
  element.append(...children.flat(2).filter((child) => child != null && child !== false && child !== ''));
  return element;
}

const key = (text, press, more = {}) => h('button', {type: 'button', onclick: press, ...more}, text);
const fill = (text, values) => text.replace(/%\((\w+)\)s/g, (_, name) => values[name] ?? '');
const dayText = (day) => new Date(`${day}T12:00`).toLocaleDateString(setup.dates, {weekday: 'short', day: 'numeric', month: 'short'});
// A day of another year than today's names it.
const lastText = (day) => (day.slice(0, 4) === dayOf().slice(0, 4) ? dayText(day)
  : new Date(`${day}T12:00`).toLocaleDateString(setup.dates, {day: 'numeric', month: 'short', year: 'numeric'}));
const sameFields = (one, other) => Object.keys(one).every((name) => one[name] === other[name]);

function newId() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

function dayOf(back = 0) {
  const day = state.carried?.day ? new Date(`${state.carried.day}T12:00`) : new Date();
  day.setDate(day.getDate() - back);
  return localTime(day).slice(0, 10);
}

/* What may be named */

function lately(kind) {
  const own = [...state.entries].sort((one, other) => (one.written_at < other.written_at ? 1 : -1)).map((entry) => entry.typed);
  const all = [...own, ...(state.carried?.lately ?? [])];
  // What was named last for such an entry, then what the week asks of, then what was named at all.
  const due = state.weeks.flatMap(({jobs}) => jobs.map(({typed}) => typed));
  const ofKind = (typed) => typed.kind === kind;
  return [...all.filter(ofKind), ...due.filter(ofKind), ...all.filter((typed) => !ofKind(typed))];
}

function offered(kind) {
  const {carried} = state;
  if (!carried) return [];
  const {first} = kinds[kind];
  const found = [];
  const takesLots = kinds[kind].more.includes('store') && first.includes('food') && first.includes('lot');
  if (takesLots) {
    carried.lots.forEach(({food, form, store: place, name, purpose}) => found.push(
      {name, aside: purpose === 'eat' ? '' : purpose, fields: {food, form, store: place}}));
  }
  if (first.includes('planting')) {
    carried.plantings.forEach(({key: planting, name, bed, foods}) => found.push({name, aside: bed, fields: {planting}, foods}));
  }
  if (first.includes('bed')) carried.beds.forEach(([bed, name]) => found.push({name, aside: words.whole_bed, fields: {bed}}));
  if (first.includes('food')) carried.foods.forEach(([food, name]) => found.push({name, fields: {food}}));
  if (first.includes('crop_kind')) carried.kinds.forEach(([kindId, name]) => found.push({name, fields: {crop_kind: kindId}}));
  return recentFirst(found, lately(kind));
}

// What was named last comes first; a planting before the bed it stands in.
function recentFirst(found, recent) {
  const first = [];
  recent.forEach((typed) => {
    const option = found.find((one) => sameFields(one.fields, typed));
    if (option && !first.includes(option)) first.push(option);
  });
  return [...first, ...found.filter((option) => !first.includes(option))];
}

// Of several that fit what was typed, the one that says most.
function closest(options, typed) {
  return options.filter((one) => sameFields(one.fields, typed))
    .sort((one, other) => Object.keys(other.fields).length - Object.keys(one.fields).length)[0];
}

const optionOf = (typed) => closest(offered(typed.kind), typed);
const calledOf = (option) => [option.name, option.aside].filter(Boolean).join(', ');
const named = (pairs, field) => pairs.map(([value, name]) => ({name, fields: {[field]: value}}));

/* A choice by large keys: a few first, all of them behind one more key */

function chooser(title, options, typed, changed) {
  const name = `choice-${title}`;
  const box = h('fieldset', {class: 'choice'}, h('legend', {}, title));
  const list = h('div', {class: 'keys'});
  const ofOption = (option) => h('label', {class: 'key'},
    h('input', {
      type: 'radio', name, checked: option === chosen(),
      onchange: () => changed(option),
    }),
    h('span', {}, option.name, option.aside && h('small', {}, option.aside)));
  const chosen = () => closest(options, typed);
  function draw(shown) {
    list.replaceChildren(...shown.map(ofOption));
  }
  const there = chosen();
  const first = options.slice(0, FIRST_OFFERED);
  draw(there && !first.includes(there) ? [there, ...first] : first);
  box.append(list);
  if (options.length > FIRST_OFFERED) {
    box.append(key(fill(words.all, {number: options.length}), (event) => {
      event.target.remove();
      draw(options);
      if (options.length > FIND_FROM) {
        const find = h('input', {
          type: 'search', placeholder: words.find, 'aria-label': `${words.find}: ${title}`, autocomplete: 'off',
          oninput: () => draw(options.filter((one) => `${one.name} ${one.aside ?? ''}`.toLowerCase().includes(find.value.toLowerCase()))),
        });
        box.insertBefore(find, list);
      }
      list.querySelector('input')?.focus();
    }, {class: 'all'}));
  }
  return box;
}

function choiceOf(name, values, typed) {
  const box = chooser(labels[name], values, typed, (option) => Object.assign(typed, option.fields));
  box.id = `choice-${name}`;
  return box;
}

/* The pad */

function pad(draft, spec) {
  const counted = spec.first.includes('sound');
  const fields = counted ? ['sound', 'soft', 'sprouted'] : [spec.first.includes('amount') ? 'amount' : 'minutes'];
  const units = fields[0] === 'minutes' ? ['min'] : spec.units;
  draft.unit ??= units[0];
  draft.numbers ??= {};
  let active = fields[0];
  const inputs = {};
  const press = (figure) => {
    const input = inputs[active];
    if (figure === '⌫') input.value = input.value.slice(0, -1);
    else if (figure === '−') input.value = input.value.startsWith('−') ? input.value.slice(1) : `−${input.value}`;
    else if (figure !== setup.mark || !input.value.includes(figure)) input.value += figure;
    draft.numbers[active] = input.value;
  };
  const shown = fields.map((field) => {
    inputs[field] = h('input', {
      id: `pad-${field}`, inputmode: 'none', autocomplete: 'off', value: draft.numbers[field] ?? '',
      'data-field': field,
      onfocus: () => { active = field; mark(); },
      oninput: (event) => { draft.numbers[field] = event.target.value; },
    });
    return h('div', {class: 'number'}, h('label', {for: `pad-${field}`}, fields.length > 1 ? labels[field] : words.how_much), inputs[field]);
  });
  function mark() {
    fields.forEach((field) => inputs[field].classList.toggle('active', fields.length > 1 && field === active));
  }
  mark();
  const unitKeys = h('div', {class: 'units', role: 'radiogroup', 'aria-label': words.how_much}, units.map((unit) => h('label', {class: 'key'},
    h('input', {type: 'radio', name: 'unit', checked: unit === draft.unit, onchange: () => { draft.unit = unit; }}), h('span', {}, unit))));
  const figures = ['1', '2', '3', '4', '5', '6', '7', '8', '9', units[0].startsWith('°') ? '−' : setup.mark, '0', '⌫'];
  return h('section', {class: 'pad'},
    h('div', {class: 'numbers'}, shown, unitKeys),
    h('div', {class: 'figures', role: 'group', 'aria-label': words.how_much},
      figures.map((figure) => key(figure, () => press(figure), figure === '⌫' ? {'aria-label': words.rub_out} : {}))));
}

/* Writing an entry */

function begin(kind, typed = {}, more = {}) {
  state.draft = {kind, typed: {...typed}, day: dayOf(), ...more};
  go('#tell');
}

function beginFrom(entry) {
  const {kind, day, ...typed} = entry.typed;
  const draft = {day, mends: entry.id, why: entry.why, numbers: {}, unit: undefined, photo: entry.photo};
  ['amount', 'sound', 'soft', 'sprouted'].forEach((field) => {
    const told = /^(−?-?[\d.,]+)\s*(.*)$/.exec(typed[field] ?? '');
    if (told) [, draft.numbers[field], draft.unit] = told;
    delete typed[field];
  });
  if (kinds[kind].first.includes('minutes')) draft.numbers.minutes = typed.minutes;
  begin(kind, typed, draft);
}

function subject(draft, spec) {
  if (!spec.first.some((name) => OF_WHAT.includes(name))) return null;
  const box = h('div', {id: 'subject'});
  const again = () => {
    const held = document.activeElement?.closest('label')?.textContent;
    box.replaceChildren(...subjects(draft, spec, again));
    if (held) [...box.querySelectorAll('label.key')].find((one) => one.textContent.endsWith(held))?.querySelector('input').focus({preventScroll: true});
  };
  box.append(...subjects(draft, spec, () => again()));
  return box;
}

function subjects(draft, spec, chosenAnew) {
  const options = offered(draft.kind);
  const there = chooser(words.of_what, options, draft.typed, (option) => {
    [...OF_WHAT, ...PLACES].forEach((field) => {
      if (spec.first.includes('store') && PLACES.includes(field)) return;
      delete draft.typed[field];
    });
    Object.assign(draft.typed, option.fields);
    if (option.foods && spec.first.includes('food')) [draft.typed.food] = option.foods;
    sameAsLast(draft, spec);
    chosenAnew();
  });
  const chosen = options.find((one) => one.foods && one.fields.planting === draft.typed.planting);
  if (!chosen || !spec.first.includes('food') || chosen.foods.length < 2) return [there];
  const names = Object.fromEntries(state.carried.foods);
  return [there, chooser(words.which_food, chosen.foods.map((food) => ({name: names[food] ?? food, fields: {food}})), draft.typed,
    (option) => Object.assign(draft.typed, option.fields))];
}

// Where a food was put the last time it is offered to go again; it can be chosen otherwise.
function sameAsLast(draft, spec) {
  const last = lately(draft.kind).find((typed) => typed.kind === draft.kind && typed.food === draft.typed.food);
  const asked = PLACES.filter((name) => spec.first.includes(name));
  if (!last || !asked.length || asked.some((name) => draft.typed[name])) return;
  asked.forEach((name) => { draft.typed[name] = last[name]; });
  document.getElementById('places').replaceChildren(...places(draft, spec));
}

function places(draft, spec) {
  const recent = lately(draft.kind);
  const found = [];
  if (spec.first.includes('store')) found.push(choiceOf('store', recentFirst(named(state.carried?.stores ?? [], 'store'), recent), draft.typed));
  if (spec.first.includes('form')) found.push(choiceOf('form', recentFirst(named(choices.form.map((one) => [one, one]), 'form'), recent), draft.typed));
  if (spec.first.includes('trouble')) {
    const known = recentFirst(named(state.carried?.troubles ?? [], 'trouble'), recent);
    recent.map((typed) => typed.trouble).filter(Boolean).forEach((trouble) => {
      if (!known.some((one) => one.fields.trouble === trouble)) known.push({name: trouble, fields: {trouble}});
    });
    found.push(choiceOf('trouble', known, draft.typed));
    found.push(field('trouble', draft.typed, {id: 'trouble-typed'}));
    found.push(choiceOf('severity', named(choices.severity.map((one) => [one, one]), 'severity'), draft.typed));
  }
  return found;
}

function field(name, typed, more = {}) {
  const id = more.id ?? `field-${name}`;
  const tag = name === 'words' ? 'textarea' : 'input';
  const input = h(tag, {id, autocomplete: 'off', rows: tag === 'textarea' ? 2 : null, ...more, oninput: (event) => { typed[name] = event.target.value; }});
  input.value = typed[name] ?? '';
  return h('div', {class: 'field'}, h('label', {for: id}, labels[name]), input);
}

function selected(name, pairs, typed) {
  const input = h('select', {id: `field-${name}`, onchange: (event) => { typed[name] = event.target.value; }},
    h('option', {value: ''}, '–'), pairs.map(([value, shown]) => h('option', {value, selected: typed[name] === value}, shown)));
  return h('div', {class: 'field'}, h('label', {for: `field-${name}`}, labels[name]), input);
}

function days(draft) {
  const other = h('input', {type: 'date', 'aria-label': words.other_day, value: draft.day, max: dayOf(), onchange: () => { draft.day = other.value; tick(); }});
  const of = (day, name) => h('label', {class: 'key'}, h('input', {type: 'radio', name: 'day', value: day, onchange: () => { draft.day = day; other.value = day; }}), h('span', {}, name));
  const both = [of(dayOf(), words.today), of(dayOf(1), words.yesterday)];
  const tick = () => both.forEach((one) => { const input = one.querySelector('input'); input.checked = input.value === draft.day; });
  tick();
  return h('fieldset', {class: 'choice days'}, h('legend', {}, words.when), h('div', {class: 'keys'}, both, other));
}

function photoOf(draft) {
  const box = h('div', {class: 'field photo'});
  const draw = () => {
    const input = h('input', {id: 'photo', type: 'file', accept: 'image/*', onchange: async () => {
      try {
        draft.photo = await (await smaller(input.files[0])).arrayBuffer();
      } catch {
        say(words.photo_bad);
      }
      draw();
    }});
    const there = draft.photo && [h('img', {alt: words.photo, src: ''}), h('p', {}, words.photo_there), key(words.photo_off, () => { draft.photo = null; draw(); })];
    box.replaceChildren(h('label', {for: 'photo'}, words.photo), ...(there || [input]));
    if (there) picture(draft.photo).then((address) => { there[0].src = address; });
  };
  draw();
  return box;
}

function picture(photo) {
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result);
    reader.readAsDataURL(new Blob([photo], {type: 'image/jpeg'}));
  });
}

function more(draft, spec) {
  const {typed} = draft;
  const {carried} = state;
  const pairs = {
    bed: carried?.beds, store: carried?.stores, crop_kind: carried?.kinds,
    planting: carried?.plantings.map((one) => [one.key, `${one.name}, ${one.bed}`]),
    form: choices.form.map((one) => [one, one]), purpose: choices.purpose.map((one) => [one, one]),
  };
  const fields = spec.more.filter((name) => !['severity', 'lot'].includes(name))
    .map((name) => (pairs[name] ? selected(name, pairs[name], typed) : field(name, typed, name === 'minutes' ? {inputmode: 'numeric'} : {})));
  const told = spec.more.some((name) => typed[name]) || draft.photo;
  return h('details', {class: 'more', open: Boolean(told)}, h('summary', {}, words.more), fields, photoOf(draft));
}

function reasons(why) {
  return why?.length ? h('div', {class: 'why', role: 'alert'}, h('p', {}, h('strong', {}, `${words.refused}:`)),
    h('ul', {}, why.map((one) => h('li', {}, `${one.where}: ${one.what} ${one.remedy}`)))) : null;
}

function tell() {
  const {draft} = state;
  if (!draft) return write();
  const spec = kinds[draft.kind];
  const numbers = spec.first.some((name) => ['amount', 'sound', 'minutes'].includes(name));
  return [
    h('div', {class: 'top'}, key(words.back, () => history.back(), {class: 'plain'}), h('h1', {tabindex: '-1'}, spec.word)),
    reasons(draft.why),
    subject(draft, spec), h('div', {id: 'places'}, places(draft, spec)), days(draft), more(draft, spec),
    h('div', {class: 'at-thumb'}, h('p', {id: 'fault', class: 'fault', role: 'alert', hidden: true}), numbers && pad(draft, spec),
      key(words.done, () => done(draft, spec), {class: 'main done', id: 'done'})),
  ];
}

function typedOf(draft, spec) {
  const typed = {...draft.typed, kind: draft.kind, day: draft.day};
  Object.entries(draft.numbers ?? {}).forEach(([name, number]) => {
    const plain = (number ?? '').trim().replace(/[.,]$/, '');
    if (!plain) return;
    typed[name] = name === 'minutes' ? plain : `${plain} ${draft.unit}`;
  });
  if (typed.sound && spec.first.includes('sound')) ['soft', 'sprouted'].forEach((name) => { typed[name] ??= `0 ${draft.unit}`; });
  return Object.fromEntries(Object.entries(typed).filter(([, value]) => value));
}

function shownOf(draft, typed, spec) {
  const option = optionOf(typed);
  const amount = typed.amount ?? (typed.sound ? ['sound', 'soft', 'sprouted'].map((name) => `${labels[name]} ${typed[name]}`).join(', ') : '');
  const worked = spec.first.includes('minutes') ? fill(words.minutes, {number: typed.minutes}) : '';
  return [spec.word, amount || worked, option && calledOf(option), typed.trouble, typed.severity, typed.words]
    .filter(Boolean).join(' · ');
}

async function done(draft, spec) {
  const typed = typedOf(draft, spec);
  const lacks = spec.needs.find((group) => !group.some((name) => typed[name]));
  const amountLacks = (spec.must && !typed.amount) || (spec.first.includes('sound') && !typed.sound) || (draft.kind === 'worked' && !typed.minutes);
  if (lacks || amountLacks) {
    const fault = document.getElementById('fault');
    const where = lacks?.some((name) => OF_WHAT.includes(name)) ? 'subject' : `choice-${lacks?.[0]}`;
    fault.textContent = !lacks ? words.missing_amount : where === 'subject' ? words.missing : fill(words.missing_field, {field: labels[lacks[0]]});
    fault.hidden = false;
    if (lacks) document.getElementById(where)?.scrollIntoView({block: 'center'});
    return;
  }
  const entry = {
    id: newId(), written_at: localTime(), typed, shown: shownOf(draft, typed, spec), job: draft.job ?? null,
    photo: draft.photo ?? null, state: 'waiting', tried: false, why: [], replaces: null,
  };
  document.getElementById('done').disabled = true;
  try {
    if (!store) throw new Error(words.no_store);
    if (draft.mends) await store.mend(draft.mends, entry);
    else await store.put(entry);
  } catch (error) {
    document.getElementById('done').disabled = false;
    say(fill(words.not_kept, {reason: error.message || error.name}));
    return;
  }
  state.draft = null;
  await reread();
  go(draft.back ?? '#');
  say(fill(words.written, {entry: entry.shown}), key(words.undo, () => takeBack(entry)));
  sendNow();
}

async function takeBack(entry) {
  const fresh = {...entry, id: newId(), written_at: localTime(), photo: null, state: 'waiting', tried: false, why: [], job: null, shown: fill(words.undone, {entry: entry.shown})};
  await store.takeBack(entry.id, fresh);
  await reread();
  draw();
  say(fresh.shown);
  sendNow();
}

/* The pages */

const local = () => [...state.entries].sort((one, other) => (one.written_at < other.written_at ? 1 : -1));
const isTold = (entry) => !entry.taken_back;

function write() {
  const again = [];
  const added = new Set();
  for (const typed of [...local().filter(isTold).map((entry) => entry.typed), ...(state.carried?.lately ?? [])]) {
    const spec = kinds[typed.kind];
    const option = optionOf(typed);
    const sign = `${typed.kind} ${JSON.stringify(option?.fields)}`;
    if (added.has(sign) || (!option && spec.first.some((name) => OF_WHAT.includes(name)))) continue;
    added.add(sign);
    const food = typed.food ? {food: typed.food} : {};
    again.push(key(h('span', {}, spec.word, option && h('small', {}, calledOf(option))),
      () => begin(typed.kind, {...option?.fields, ...food}, {unit: unitOf(typed)})));
    if (again.length === 4) break;
  }
  return [
    h('h1', {tabindex: '-1'}, state.carried?.garden ?? words.write),
    again.length ? h('section', {}, h('h2', {}, words.again), h('div', {class: 'keys two'}, again)) : null,
    groups.map(([name, members]) => h('section', {}, h('h2', {}, name),
      h('div', {class: 'keys two'}, members.map((kind) => key(kinds[kind].word, () => begin(kind, {}, {unit: unitOf(lately(kind)[0] ?? {}, kind)})))))),
  ];
}

function unitOf(typed, kind = typed.kind) {
  const unit = /[^\d.,−\s-].*$/.exec(typed.kind === kind ? typed.amount ?? typed.sound ?? '' : '')?.[0];
  return kinds[kind].units.includes(unit) ? unit : undefined;
}

function week() {
  if (!state.weeks.length) return [h('h1', {tabindex: '-1'}, words.week), h('p', {}, words.no_jobs)];
  return state.weeks.map((one, number) => [
    h('h1', {tabindex: '-1'}, number ? words.next_week : words.week),
    one.jobs.length ? h('ul', {class: 'jobs'}, one.jobs.map(job)) : h('p', {}, words.no_jobs),
  ]);
}

function job(due) {
  const here = state.entries.find((entry) => entry.job === due.id && !entry.taken_back);
  const isDone = due.done || here;
  const {kind, ...typed} = due.typed;
  return h('li', {class: isDone ? 'is-done' : null},
    h('h3', {}, due.what), h('p', {class: 'place'}, due.place),
    h('p', {}, [due.amount, due.minutes && fill(words.minutes, {number: Math.max(1, Math.round(due.minutes))}),
      fill(due.last_day < dayOf() ? words.was_due : words.last_day, {day: lastText(due.last_day)}), due.may_wait && !isDone && words.may_wait].filter(Boolean).join(' · ')),
    due.waits && h('p', {}, h('em', {}, due.waits)),
    due.cautions.length ? h('details', {}, h('summary', {}, words.care), due.cautions.map((caution) => h('p', {}, caution))) : null,
    isDone ? h('p', {class: 'told-done'}, `${words.job_done} ${due.done ? dayText(due.done) : ''}`)
      : key(words.done, () => begin(kind, typed, {job: due.id, back: '#week'}), {'aria-label': `${words.done}: ${due.what}`}));
}

const IN_WORDS = {waiting: words.waits, photo: words.waits, sent: words.sent, refused: words.refused, 'photo refused': words.refused};

function here() {
  const order = ['refused', 'photo refused', 'waiting', 'photo', 'sent'];
  const entries = local().sort((one, other) => order.indexOf(one.state) - order.indexOf(other.state));
  return [
    h('h1', {tabindex: '-1'}, words.here),
    state.carried ? h('p', {class: 'aside'}, fill(words.last_heard, {day: dayText(state.carried.heard.slice(0, 10))})) : h('p', {}, words.never_heard),
    entries.some((entry) => ['waiting', 'photo'].includes(entry.state)) ? key(words.send_again, sendNow) : null,
    entries.length ? h('ul', {class: 'here'}, entries.map(listed)) : h('p', {}, words.nothing_here),
  ];
}

function listed(entry) {
  const acts = [];
  if (entry.state === 'refused') {
    acts.push(key(words.mend, () => beginFrom(entry), {class: 'main'}),
      key(words.send_again, async () => { await store.change(entry.id, {state: 'waiting'}); sendNow(); }),
      key(words.throw_away, async () => { if (confirm(words.throw_sure)) { await store.remove(entry.id); await reread(); draw(); } }, {class: 'plain'}));
  } else if (entry.state === 'photo refused') {
    acts.push(key(words.photo_off, async () => { await store.change(entry.id, {state: 'sent', photo: null, why: []}); await reread(); draw(); }));
  } else if (isTold(entry) && !state.entries.some((one) => one.replaces === entry.id)) {
    acts.push(key(words.put_right, () => beginFrom(entry), {class: 'plain'}), key(words.take_back, () => takeBack(entry), {class: 'plain'}));
  }
  return h('li', {class: entry.state.includes('refused') ? 'refused' : null},
    h('p', {}, h('strong', {}, dayText(entry.typed.day)), ` ${entry.shown} `, h('span', {class: 'aside'}, IN_WORDS[entry.state])),
    reasons(entry.why), h('div', {class: 'acts'}, acts));
}

/* Drawing */

const VIEWS = {'': write, '#': write, '#week': week, '#here': here, '#tell': tell};

function draw() {
  const view = VIEWS[location.hash] ?? write;
  const isNew = view !== state.view;
  state.view = view;
  main.replaceChildren(...view().flat(3).filter(Boolean));
  document.body.classList.toggle('telling', view === tell && Boolean(state.draft));
  tabs();
  tellState();
  if (isNew) {
    // At once: a page that glides is no place to press.
    scrollTo({top: 0, behavior: 'instant'});
    main.querySelector('h1')?.focus({preventScroll: true});
  }
}

function tabs() {
  const bad = state.entries.filter((entry) => entry.state.includes('refused')).length;
  const waits = state.entries.filter((entry) => entry.state !== 'sent').length;
  const tab = (address, name, count = '') => h('li', {}, h('a', {
    href: address, 'aria-current': (location.hash || '#') === address ? 'page' : null,
  }, name, count ? ` (${bad ? '! ' : ''}${count})` : ''));
  document.getElementById('tabs').replaceChildren(h('ul', {}, tab('#', words.write), tab('#week', words.week), tab('#here', words.here, waits)));
}

function go(hash) {
  if ((location.hash || '#') === hash) draw();
  else location.hash = hash;
}

function tellState() {
  const waits = state.entries.filter((entry) => ['waiting', 'photo'].includes(entry.state)).length;
  const bad = state.entries.filter((entry) => entry.state.includes('refused')).length;
  const said = {away: words.not_reached, 'shut out': words.shut_out, odd: words.no_garden, sending: words.sending}[state.how] ?? '';
  const count = waits === 1 ? words.waiting_one : waits ? fill(words.waiting, {number: waits}) : '';
  const refused = bad === 1 ? words.refused_one : bad ? fill(words.refused_more, {number: bad}) : '';
  const line = h('p', {}, [said, count, refused].filter(Boolean).join(' ') || (state.how === 'sent' ? words.all_sent : ''));
  const minutes = Math.abs(state.clock);
  const length = minutes >= 2880 ? `${Math.round(minutes / 1440)} d` : minutes >= 120 ? `${Math.round(minutes / 60)} h` : `${Math.round(minutes)} min`;
  const clock = minutes > CLOCK_APART_MIN && h('p', {class: 'warn'}, fill(words.clock, {length, way: state.clock > 0 ? words.clock_fast : words.clock_slow}));
  const notes = state.told.map((one) => h('p', {class: 'warn'}, `${one.where}: ${one.what} ${one.remedy}`));
  const away = notes.length ? key(words.seen, async () => { state.told = []; await store?.keep('told', []); tellState(); }, {class: 'plain'}) : null;
  const box = document.getElementById('state');
  const lasting = [!store && h('p', {class: 'warn'}, words.no_store), clock, notes, away].flat().filter(Boolean);
  const before = box.querySelector('.just');
  box.replaceChildren(...[before, line, ...lasting].filter(Boolean));
}

function say(text, act) {
  const box = document.getElementById('state');
  box.querySelector('.just')?.remove();
  const just = h('div', {class: 'just'}, h('p', {}, text), act);
  box.prepend(just);
  act?.addEventListener('click', () => just.remove());
  if (act) setTimeout(() => just.remove(), 12000);
}

/* With the laptop */

async function reread() {
  state.entries = store ? await store.entries() : [];
}

function clockBy(now) {
  state.clock = (Date.now() - new Date(now).getTime()) / 60000;
}

let waitingToDraw = false;
function drawQuietly() {
  // Whoever is in the middle of an entry is not disturbed.
  if (location.hash === '#tell') {
    tabs();
    tellState();
  } else if (!waitingToDraw) {
    waitingToDraw = true;
    requestAnimationFrame(() => { waitingToDraw = false; draw(); });
  }
}

async function sendNow() {
  if (!send) return;
  const {how, told} = await send();
  state.how = how;
  for (const one of told) {
    clockBy(one.now);
    state.told.push(...one.told);
  }
  if (told.some((one) => one.told.length)) await store.keep('told', state.told);
  await reread();
  if (how === 'sent') await fetchCarried();
  drawQuietly();
  if (state.how === 'sent') fetchWeeks();
}

async function fetchCarried() {
  try {
    const answer = await ask('/phone/carried');
    if (answer.status === 403) state.how = 'shut out';
    if (!answer.ok || !answer.headers.get('content-type')?.includes('json')) return;
    const carried = await answer.json();
    clockBy(carried.now);
    state.carried = {...carried, heard: localTime()};
    await store.keep('carried', state.carried);
  } catch {
    state.how = 'away';
  }
}

// The jobs take the laptop a moment to reckon; those carried so far stand until then.
async function fetchWeeks() {
  try {
    const answer = await ask('/phone/weeks', {}, 300000);
    if (!answer.ok) return;
    ({weeks: state.weeks} = await answer.json());
    await store.keep('weeks', state.weeks);
    drawQuietly();
  } catch {
    // The laptop went out of reach meanwhile: the line at the head says so.
  }
}

// Each view starts at its head; where the browser remembers to have been would come too late.
history.scrollRestoration = 'manual';
addEventListener('hashchange', draw);
addEventListener('online', sendNow);
document.addEventListener('visibilitychange', () => { if (!document.hidden) sendNow(); });
setInterval(() => {
  if (!document.hidden && state.entries.some((entry) => ['waiting', 'photo'].includes(entry.state))) sendNow();
}, 1000 * AGAIN_S);

if (store) {
  state.carried = await store.thing('carried') ?? null;
  state.weeks = await store.thing('weeks') ?? [];
  state.told = await store.thing('told') ?? [];
  let device = await store.thing('device');
  if (!device) {
    device = `phone ${newId().slice(0, 4)}`;
    await store.keep('device', device);
  }
  send = sender(store, device);
  await reread();
  navigator.storage?.persist?.();
}
if (location.hash === '#tell') location.replace('#');
draw();
navigator.serviceWorker?.register('/phone/worker.js').catch(() => {});
if (store) await sendNow();
else await fetchCarried().then(draw);
document.body.dataset.ready = 'yes';
