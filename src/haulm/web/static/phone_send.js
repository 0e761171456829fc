// Sends what waits to the laptop. Only what the laptop names as taken is let go.

const AT_ONCE = 100;
const PATIENCE_MS = 30000;

// A time by this phone's clock with its distance from UTC, so that the day it fell on is told too.
export function localTime(when = new Date()) {
  const apart = -when.getTimezoneOffset();
  const local = new Date(when.getTime() + 60000 * apart).toISOString().slice(0, 19);
  const [hours, minutes] = [Math.floor(Math.abs(apart) / 60), Math.abs(apart) % 60];
  const two = (number) => String(number).padStart(2, '0');
  return `${local}${apart < 0 ? '-' : '+'}${two(hours)}:${two(minutes)}`;
}

export async function ask(address, more = {}, patienceMs = PATIENCE_MS) {
  const ended = new AbortController();
  const timer = setTimeout(() => ended.abort(), patienceMs);
  try {
    return await fetch(address, {credentials: 'same-origin', redirect: 'error', signal: ended.signal, ...more});
  } finally {
    clearTimeout(timer);
  }
}

// Gives a function that sends all that waits, one call at a time, and tells how it went: 'sent',
// 'away', 'shut out' or 'odd'; with what the laptop told beside.
export function sender(store, device) {
  async function entries(told) {
    for (;;) {
      const parcel = await store.take(AT_ONCE);
      if (!parcel.length) return 'sent';
      const body = JSON.stringify({
        sent_at: localTime(),
        device,
        entries: parcel.map(({id, written_at, typed, replaces, taken_back}) => (
          {id, written_at, typed, replaces: replaces ?? null, taken_back: taken_back ?? false})),
      });
      const answer = await ask('/phone/send', {method: 'POST', body, headers: {'Content-Type': 'application/json'}});
      if (answer.status === 403) return 'shut out';
      if (!answer.ok) return 'odd';
      const {taken, refused, told: more, now} = await answer.json();
      await store.answered(taken, refused);
      told.push({told: more, now});
      // An answer that names none of them would be asked for ever again.
      if (!parcel.some(({id}) => taken.includes(id) || refused[id])) return 'odd';
    }
  }

  async function photos() {
    for (const entry of (await store.entries()).filter((one) => one.state === 'photo')) {
      const answer = await ask(`/phone/photo/${entry.id}`, {
        method: 'POST', body: new Blob([entry.photo], {type: 'image/jpeg'}),
      });
      if (answer.status === 403) return 'shut out';
      if (answer.status === 422) {
        const {told} = await answer.json();
        await store.change(entry.id, {state: 'photo refused', why: told});
      } else if (answer.ok) {
        await store.change(entry.id, {state: 'sent', photo: null});
      } else {
        return 'odd';
      }
    }
    return 'sent';
  }

  let running = null;
  async function once() {
    const told = [];
    try {
      let how = await entries(told);
      if (how === 'sent') how = await photos();
      await store.tidy();
      return {how, told};
    } catch {
      return {how: 'away', told};
    }
  }
  return async function send() {
    // What was written while another sending ran is sent after it.
    while (running) await running;
    running = once();
    try {
      return await running;
    } finally {
      running = null;
    }
  };
}
