// While a PDF is drawn, says so; it is opened once it is there. Without this script the link is
// followed at once, and the browser waits.

const waiting = document.querySelector('.waiting');

document.addEventListener('click', async (event) => {
  const link = event.target.closest('a[data-drawn]');
  if (!link || !waiting || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  waiting.textContent = link.dataset.drawn;
  const answer = await fetch(link.href, {method: 'HEAD', credentials: 'same-origin'}).catch(() => null);
  waiting.textContent = '';
  if (answer) location.assign(link.href);
});
