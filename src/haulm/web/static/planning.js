// Shows a plan coming closer: what is done now, and the distance to the best possible plan.

const making = document.querySelector('.making');
const curve = making.querySelector('polyline');
const points = [];

function show(step) {
  making.querySelector('.step').textContent = step.words;
  making.querySelector('.close').textContent = step.close;
  making.querySelector('progress').value = step.done;
  if (step.gap === null) return;
  points.push([400 * step.done, 95 * (1 - Math.min(1, step.gap / 0.5))]);
  curve.setAttribute('points', points.map((point) => point.join()).join(' '));
}

const events = new EventSource(making.dataset.events);
events.addEventListener('message', (event) => show(JSON.parse(event.data)));
events.addEventListener('ended', () => {
  events.close();
  location.reload();
});
