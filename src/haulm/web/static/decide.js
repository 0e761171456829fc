// What a choice's waiting costs takes seconds to reckon, so each is fetched once the page is there,
// one after another. Without this script its link leads to it.

for (const choice of document.querySelectorAll('[data-later]')) {
  const answer = await fetch(choice.dataset.later, {credentials: 'same-origin'}).catch(() => null);
  if (!answer?.ok) break;
  const there = new DOMParser().parseFromString(await answer.text(), 'text/html');
  const told = there.getElementById(choice.id);
  if (told) choice.replaceWith(document.importNode(told, true));
}
