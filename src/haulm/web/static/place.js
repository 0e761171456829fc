// A record may be dropped anywhere on the page: it is put into the form and sent.

import {send} from './live.js';

const form = () => document.getElementById('load');
const holdsFiles = (event) => event.dataTransfer?.types.includes('Files');

document.addEventListener('dragover', (event) => {
  if (!holdsFiles(event)) return;
  event.preventDefault();
  form()?.classList.add('over');
});

document.addEventListener('dragleave', (event) => {
  if (event.relatedTarget === null) form()?.classList.remove('over');
});

document.addEventListener('drop', async (event) => {
  if (!holdsFiles(event) || !form()) return;
  event.preventDefault();
  form().classList.remove('over');
  form().elements.record.files = event.dataTransfer.files;
  await send(form(), form().querySelector('button'));
});

// What came of a file stands at the head of the page, while its button stands at the foot.
document.addEventListener('haulm:placed', () => {
  const came = document.getElementById('found') ?? document.querySelector('.told');
  came?.setAttribute('tabindex', '-1');
  came?.focus();
});
