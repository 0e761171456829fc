// Land: looks again until the land is worked out, then shows it.

const EVERY_MS = 3000;

async function look() {
  try {
    const answer = await fetch(location.href, { credentials: "same-origin" });
    if ((await answer.text()).includes("data-waits")) {
      setTimeout(look, EVERY_MS);
    } else {
      location.reload();
    }
  } catch {
    setTimeout(look, EVERY_MS);
  }
}

if (document.querySelector("[data-waits]")) setTimeout(look, EVERY_MS);
