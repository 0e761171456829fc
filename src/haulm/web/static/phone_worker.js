// Keeps the phone's page on the phone. NAME and KEPT stand before this when it is served: which
// version this is, and the files that the page needs. What the page fetches of the garden itself is
// not kept here but by the page.

const HOME = '/phone/';
const PATIENCE_MS = 3000;

self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(KEPT)).then(() => self.skipWaiting()));
});

async function takeOver() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith('haulm-') && name !== NAME)
    .map((name) => caches.delete(name)));
  await self.clients.claim();
}

self.addEventListener('activate', (event) => event.waitUntil(takeOver()));

// The page as the laptop has it now; the one kept here if it does not answer soon, or refuses:
// what waits on the phone must stay within reach.
async function fresh(request) {
  const ended = new AbortController();
  const timer = setTimeout(() => ended.abort(), PATIENCE_MS);
  try {
    const answer = await fetch(request, {signal: ended.signal});
    if (answer.type === 'opaqueredirect') return answer;
    if (!answer.ok) throw new Error(String(answer.status));
    if (new URL(request.url).pathname === HOME) {
      const cache = await caches.open(NAME);
      await cache.put(HOME, answer.clone());
    }
    return answer;
  } catch (error) {
    return (await caches.match(HOME)) ?? Promise.reject(error);
  } finally {
    clearTimeout(timer);
  }
}

async function kept(request) {
  const there = await caches.match(request);
  if (there) return there;
  const answer = await fetch(request);
  if (answer.ok) {
    const cache = await caches.open(NAME);
    await cache.put(request, answer.clone());
  }
  return answer;
}

self.addEventListener('fetch', (event) => {
  const {request} = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && address.pathname.startsWith(HOME)) {
    event.respondWith(fresh(request));
  } else if (/^\/(static|type)\b/.test(address.pathname)) {
    event.respondWith(kept(request));
  }
});
