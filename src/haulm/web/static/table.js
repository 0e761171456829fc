// A step up or down that is pressed while the one before is still on its way waits its turn, and
// what came of it is read out: the row is put in place anew, which a screen reader would not tell.

const waiting = [];
const spoken = Object.assign(document.createElement('p'), {className: 'sr'});
spoken.setAttribute('role', 'status');
document.body.append(spoken);
let changed = null;

document.addEventListener('click', (event) => {
  const button = event.target.closest?.('button[name="step"]');
  if (!button) return;
  changed = button.form.id;
  if (!document.querySelector('form[aria-busy="true"]')) return;
  event.preventDefault();
  waiting.push([button.form.id, button.value]);
}, true);

document.addEventListener('haulm:placed', () => {
  const next = waiting.shift();
  if (next) {
    const form = document.getElementById(next[0]);
    // The form that was sent loses its mark of being busy only after this.
    setTimeout(() => form?.querySelector(`button[value="${next[1]}"]`)?.click());
    return;
  }
  const row = changed && document.getElementById(changed)?.closest('tr');
  if (!row) return;
  const cells = [...row.querySelectorAll('.year-kg, .takes')];
  spoken.textContent = cells.map((cell) => cell.textContent.trim()).join(', ');
  changed = null;
});
