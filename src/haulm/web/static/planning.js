// Shows a plan coming closer: what is done now, and the distance to the best possible plan.

const making = document.querySelector('.making');
const curve = making.querySelector('polyline');
const points = [];

function show(step) {
  const words = making.querySelector('.step');
  if (words.textContent !== step.words) words.textContent = step.words;
  making.querySelector('.close').textContent = step.close;
  making.querySelector('progress').value = step.done;
  if (!step.at) return;
  points.push(step.at);
  curve.setAttribute('points', points.join(' '));
}

const events = new EventSource(making.dataset.events);
events.addEventListener('message', (event) => show(JSON.parse(event.data)));
events.addEventListener('ended', () => {
  events.close();
  location.reload();
});
