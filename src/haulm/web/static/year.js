// Brings today, or the planting that is opened, into sight; tells the window's height, which the
// scale of the strips follows from the next page on; shows another bed as soon as it is chosen.

document.cookie = `window=${Math.round(innerHeight)};path=/;SameSite=Lax;max-age=31536000`;

const BEFORE = 96;

function intoSight() {
  const strips = document.querySelector('.strips[data-now]');
  if (!strips) return;
  const address = decodeURIComponent(location.pathname);
  const links = [...strips.querySelectorAll('.patch')];
  const opened = links.find((link) => link.getAttribute('href') === address)?.querySelector('.frame');
  const at = opened ? opened.x.baseVal.value : Number(strips.dataset.now);
  const room = strips.clientWidth - strips.querySelector('.names').offsetWidth;
  if (at > room * 0.6) strips.scrollLeft = at - BEFORE;
}

intoSight();
document.querySelector('.bed-choice select')?.addEventListener('change', (event) => {
  event.target.form.requestSubmit();
});
