// What the phone holds until the shop's computer has it: pieces of sound, ends of takes, photos.
const opened = new Promise((done, failed) => {
  const ask = indexedDB.open("jobnotes", 1);
  ask.onupgradeneeded = () => {
    ask.result.createObjectStore("pieces", { keyPath: ["take", "part", "number"] });
    ask.result.createObjectStore("takes", { keyPath: "take" });
    ask.result.createObjectStore("photos", { keyPath: "sha256" });
  };
  ask.onsuccess = () => done(ask.result);
  ask.onerror = () => failed(ask.error);
});

async function within(stores, work) {
  const base = await opened;
  return new Promise((done, failed) => {
    const change = base.transaction(stores, "readwrite", { durability: "strict" });
    const asked = work(...stores.map((name) => change.objectStore(name)));
    change.oncomplete = () => done(asked?.result);
    change.onerror = change.onabort = () => failed(change.error);
  });
}

async function hashed(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((n) => n.toString(16).padStart(2, "0")).join("");
}

export const openTake = ({ take, job }) => within(["takes"], (takes) => takes.put({ take, job, parts: [], ended: false }));

// A piece and the count of its take change together, so that a reload between them loses neither.
export async function keepPiece(piece, blob, parts) {
  const bytes = await blob.arrayBuffer();
  const sha256 = await hashed(bytes);
  await within(["pieces", "takes"], (pieces, takes) => {
    pieces.put({ ...piece, bytes, sha256 });
    takes.put({ take: piece.take, job: piece.job, parts, ended: false });
  });
}

export async function endTake(take, parts) {
  const held = await within(["takes"], (takes) => takes.get(take));
  await within(["takes"], (takes) => takes.put({ ...held, parts, ended: true }));
}

// A take that nobody records any more (a reload, a flat battery) ends with what was kept of it.
export async function endBroken() {
  const all = await within(["takes"], (takes) => takes.getAll());
  for (const one of all.filter((take) => !take.ended)) {
    await navigator.locks.request(`take-${one.take}`, { ifAvailable: true }, (lock) => lock && endTake(one.take, one.parts));
  }
}

export async function keepPhoto(job, file) {
  const bytes = await file.arrayBuffer();
  const sha256 = await hashed(bytes);
  await within(["photos"], (photos) => photos.put({ sha256, job, name: file.name, bytes }));
}

let refused = "";
export async function waiting() {
  const counts = await Promise.all(["pieces", "photos", "takes"].map((name) => within([name], (store) => store.count())));
  return { pieces: counts[0], photos: counts[1], takes: counts[2], refused };
}

// One sender at a time over all pages of this phone.
export const sendAll = (csrf) => navigator.locks.request("sending", () => send(csrf));

// Without Wi-Fi it stops; what the shop's computer refuses holds up its own take only.
async function send(csrf) {
  refused = "";
  const stuck = new Set();
  const keys = await within(["pieces"], (pieces) => pieces.getAllKeys());
  for (const key of keys) {
    if (stuck.has(key[0])) continue;
    const sent = await sendPiece(key, csrf);
    if (!sent) return;
    if (sent === "refused") stuck.add(key[0]);
  }
  const takes = await within(["takes"], (all) => all.getAll());
  const left = new Set((await within(["pieces"], (pieces) => pieces.getAllKeys())).map(([take]) => take));
  for (const take of takes.filter((one) => one.ended && !left.has(one.take))) await sendEnd(take, csrf);
  const photos = await within(["photos"], (all) => all.getAllKeys());
  for (const key of photos) if (!(await sendPhoto(key, csrf))) return;
}

async function sendPiece(key, csrf) {
  const piece = await within(["pieces"], (pieces) => pieces.get(key));
  if (!piece) return "sent";
  const path = `/api/jobs/${piece.job}/takes/${piece.take}/${piece.part}/${piece.number}`;
  const answer = await put("PUT", path, piece.bytes, { "x-sha256": piece.sha256, "x-offset": piece.offset, "x-csrf": csrf });
  if (!answer) return "";
  if (!answer.ok) return "refused";
  await within(["pieces"], (pieces) => pieces.delete(key));
  return "sent";
}

async function sendEnd(take, csrf) {
  const body = JSON.stringify({ parts: take.parts });
  const path = `/api/jobs/${take.job}/takes/${take.take}/end`;
  const answer = take.parts.length ? await put("POST", path, body, { "content-type": "application/json", "x-csrf": csrf }) : { ok: true };
  if (answer?.ok) await within(["takes"], (takes) => takes.delete(take.take));
}

async function sendPhoto(key, csrf) {
  const photo = await within(["photos"], (photos) => photos.get(key));
  const path = `/api/jobs/${photo.job}/photos/${photo.sha256}`;
  const answer = await put("PUT", path, photo.bytes, { "x-name": encodeURIComponent(photo.name), "x-csrf": csrf });
  // A file that is no photo would be refused for ever: it is let go, and said.
  const hopeless = answer && [413, 422].includes(answer.status);
  if (answer?.ok || hopeless) await within(["photos"], (photos) => photos.delete(key));
  return Boolean(answer?.ok || hopeless);
}

async function put(method, path, body, headers) {
  try {
    const answer = await fetch(path, { method, body, headers });
    if (!answer.ok) refused = await reason(answer);
    return answer;
  } catch {
    return null; // no Wi-Fi: it stays on the phone and is sent again
  }
}

async function reason(answer) {
  const told = await answer.json().catch(() => ({}));
  return told.detail ?? "The shop's computer did not take it.";
}
