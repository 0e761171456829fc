// What the phone keeps: entries until the laptop has said that it took them, and what it carries.

const NAME = 'haulm-diary';
const VERSION = 1;
const SENT_KEPT = 30;

function mayBeThere(entry) {
  return entry.state !== 'refused' && entry.tried;
}

function edit(store, id, change) {
  store.get(id).onsuccess = ({target}) => {
    if (target.result) store.put(change(target.result));
  };
}

function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function ended(transaction) {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error('aborted'));
    transaction.onerror = () => reject(transaction.error);
  });
}

export async function openStore() {
  const opening = indexedDB.open(NAME, VERSION);
  opening.onupgradeneeded = () => {
    opening.result.createObjectStore('entries', {keyPath: 'id'});
    opening.result.createObjectStore('things');
  };
  const base = await asked(opening);
  // Another window with a newer version of this page must not wait for this one.
  base.onversionchange = () => base.close();

  async function write(store, change) {
    // Only what is on the disk counts as kept.
    const transaction = base.transaction(store, 'readwrite', {durability: 'strict'});
    const done = ended(transaction);
    change(transaction.objectStore(store));
    await done;
  }

  return {
    entries: () => asked(base.transaction('entries').objectStore('entries').getAll()),
    put: (...entries) => write('entries', (store) => entries.forEach((entry) => store.put(entry))),
    remove: (...ids) => write('entries', (store) => ids.forEach((id) => store.delete(id))),
    // Changes an entry as it lies there now, which may be otherwise than it was read a while ago.
    change: (id, change) => write('entries', (store) => edit(store, id, (entry) => ({...entry, ...change}))),
    // Gives what waits, marked as tried: from then on the laptop may have it.
    take: async (most) => {
      let parcel = [];
      await write('entries', (store) => {
        store.getAll().onsuccess = ({target}) => {
          parcel = target.result.filter((entry) => entry.state === 'waiting')
            .sort((one, other) => (one.written_at < other.written_at ? -1 : 1)).slice(0, most);
          parcel.forEach((entry) => store.put({...entry, tried: true}));
        };
      });
      return parcel;
    },
    answered: (taken, refused) => write('entries', (store) => {
      taken.forEach((id) => edit(store, id, (entry) => (
        {...entry, state: entry.photo ? 'photo' : 'sent', why: []})));
      Object.entries(refused).forEach(([id, why]) => edit(store, id, (entry) => (
        {...entry, state: 'refused', why})));
    }),
    // Puts an entry in the place of one that is not at the laptop; of one that may be there already
    // it becomes a correction, and both are sent.
    mend: (id, fresh) => write('entries', (store) => {
      store.get(id).onsuccess = ({target}) => {
        const old = target.result;
        if (old && !mayBeThere(old)) {
          store.delete(id);
          store.put({...fresh, replaces: old.replaces ?? null});
        } else {
          store.put({...fresh, replaces: id});
        }
      };
    }),
    takeBack: (id, fresh) => write('entries', (store) => {
      store.get(id).onsuccess = ({target}) => {
        if (target.result && !mayBeThere(target.result) && !target.result.replaces) store.delete(id);
        else store.put({...fresh, replaces: id, taken_back: true});
      };
    }),
    tidy: () => write('entries', (store) => {
      store.getAll().onsuccess = ({target}) => {
        target.result.filter((entry) => entry.state === 'sent')
          .sort((one, other) => (one.written_at < other.written_at ? 1 : -1))
          .slice(SENT_KEPT).forEach((entry) => store.delete(entry.id));
      };
    }),
    thing: (name) => asked(base.transaction('things').objectStore('things').get(name)),
    keep: (name, thing) => write('things', (store) => store.put(thing, name)),
  };
}
