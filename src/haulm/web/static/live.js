// Forms marked data-live are sent in the background: the page's main part is put in place of the
// old one, and the reader stays where she was. Without this script they are sent as any form is.

function placeOf(element) {
  if (!element || !element.closest('main')) return null;
  return {id: element.id, name: element.name, value: element.value, form: element.form?.id};
}

function sameAgain(place) {
  if (!place) return null;
  if (place.id) return document.getElementById(place.id);
  const form = place.form && document.getElementById(place.form);
  const fields = form ? [...form.elements] : [];
  return fields.find((field) => field.name === place.name && field.value === place.value)
    ?? fields.find((field) => field.name === place.name);
}

export function putInPlace(html) {
  const fresh = new DOMParser().parseFromString(html, 'text/html');
  const place = placeOf(document.activeElement);
  const opened = [...document.querySelectorAll('main details[open][id]')].map((one) => one.id);
  document.querySelector('main').replaceWith(fresh.querySelector('main'));
  document.querySelectorAll('.told').forEach((old) => old.remove());
  fresh.querySelectorAll('.told').forEach((one) => document.querySelector('main').before(one));
  opened.forEach((id) => document.getElementById(id)?.setAttribute('open', ''));
  sameAgain(place)?.focus({preventScroll: true});
  document.dispatchEvent(new CustomEvent('haulm:placed'));
}

export async function send(form, submitter) {
  const body = new FormData(form, submitter);
  form.setAttribute('aria-busy', 'true');
  try {
    const answer = await fetch(form.action, {method: 'POST', body, credentials: 'same-origin'});
    putInPlace(await answer.text());
  } catch {
    say(document.body.dataset.off);
  } finally {
    form.removeAttribute('aria-busy');
  }
}

export function say(words) {
  document.querySelectorAll('.told').forEach((old) => old.remove());
  const told = document.createElement('div');
  told.className = 'told';
  told.setAttribute('role', 'status');
  told.append(Object.assign(document.createElement('p'), {textContent: words}));
  document.querySelector('main').before(told);
}

document.addEventListener('submit', (event) => {
  const form = event.target;
  if (!form.matches('form[data-live]')) return;
  event.preventDefault();
  // Enter in a field brings a change and then a sending: the second would clash with the first.
  if (form.getAttribute('aria-busy') === 'true') return;
  send(form, event.submitter);
});

document.addEventListener('change', (event) => {
  const form = event.target.form;
  if (form?.matches('form[data-live="change"]')) form.requestSubmit();
});
