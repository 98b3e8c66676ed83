// Recording at the bench: pieces of a second are kept on the phone until the shop's computer has them.
import { keepPiece, keepPhoto, openTake, endTake, waiting, sendAll, endBroken } from "./sending.js";

const PIECE_MS = 1000;
const QUIET = 0.012; // of full scale: below ordinary speech at an arm's length; tried, no source
const QUIET_MS = 350; // a pause between words, so that a part never ends within one
const LATEST = 1.25; // of a part's length: where no pause comes, the part ends all the same

// Noise suppression takes steady sounds away, and parts of words with them; nobody plays sound back here.
const SOUND = { channelCount: 1, autoGainControl: true, noiseSuppression: false, echoCancellation: false };

const box = document.querySelector("#recorder");
const button = document.querySelector("#record");
const { job, csrf } = box.dataset;
const partMs = Number(box.dataset.partSeconds) * 1000;
const say = (id, words) => (document.querySelector(id).textContent = words);

let live = null; // what belongs to the recording that goes on
let quiet = 0;

async function start() {
  button.disabled = true;
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: SOUND });
  } catch (error) {
    say("#sent", error.name === "NotAllowedError" ? "The phone does not let this page use the microphone. Allow it in the phone's settings." : "No microphone was found.");
    button.disabled = false;
    return;
  }
  const take = [...crypto.getRandomValues(new Uint8Array(16))].map((n) => n.toString(16).padStart(2, "0")).join("");
  live = { take, stream, parts: [], recorder: null, kept: Promise.resolve(), since: Date.now() };
  navigator.locks.request(`take-${take}`, () => new Promise((free) => (live.free = free)));
  await openTake({ take, job });
  live.meter = meterOf(stream);
  stream.getTracks()[0].addEventListener("ended", stop);
  startPart();
  keepAwake();
  show();
}

function meterOf(stream) {
  const context = new AudioContext();
  const meter = context.createAnalyser();
  context.createMediaStreamSource(stream).connect(meter);
  return { context, meter, samples: new Float32Array(meter.fftSize) };
}

function startPart() {
  const part = { pieces: 0, bytes: 0, started_ms: Date.now() };
  const number = live.parts.push(part) - 1;
  const mine = live;
  live.recorder = new MediaRecorder(live.stream, { audioBitsPerSecond: 64000 });
  live.recorder.addEventListener("dataavailable", ({ data }) => {
    if (!data.size) return;
    const piece = { take: mine.take, part: number, number: part.pieces, offset: part.bytes, job };
    part.pieces += 1;
    part.bytes += data.size;
    const parts = mine.parts.map((one) => ({ ...one }));
    mine.kept = mine.kept.then(() => keepPiece(piece, data, parts)).then(tell, full);
  });
  live.recorder.start(PIECE_MS);
}

// The phone could not keep a piece: to go on would be to record what nobody will ever hear.
function full() {
  say("#sent", "This phone is full, so the recording was stopped. What was kept before is safe.");
  stop();
}

function endPart() {
  const recorder = live.recorder;
  return new Promise((ended) => {
    recorder.addEventListener("stop", ended, { once: true });
    if (recorder.state === "inactive") ended();
    else recorder.stop();
  });
}

function level() {
  live.meter.meter.getFloatTimeDomainData(live.meter.samples);
  return Math.sqrt(live.meter.samples.reduce((sum, one) => sum + one * one, 0) / live.meter.samples.length);
}

setInterval(() => {
  if (!live || live.stopping) return;
  quiet = level() < QUIET ? quiet + 100 : 0;
  const age = Date.now() - live.parts.at(-1).started_ms;
  if ((age > partMs && quiet >= QUIET_MS) || age > partMs * LATEST) {
    live.recorder.stop();
    startPart();
  }
  const seconds = Math.floor((Date.now() - live.since) / 1000);
  say("#elapsed", `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`);
}, 100);

async function stop() {
  if (!live || live.stopping) return;
  live.stopping = true;
  button.disabled = true;
  await endPart();
  await live.kept;
  live.stream.getTracks().forEach((track) => track.stop());
  await live.meter.context.close();
  await endTake(live.take, live.parts);
  live.free();
  live = null;
  say("#elapsed", "");
  show();
  tell();
}

function show() {
  button.disabled = false;
  button.setAttribute("aria-pressed", String(Boolean(live)));
  say("#record-words", live ? "Stop" : "Record");
}

let lock = null;
async function keepAwake() {
  try {
    lock = live && (await navigator.wakeLock?.request("screen"));
  } catch {
    lock = null; // a low battery refuses it; recording goes on while the page is in front
  }
}
document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && live && keepAwake());
addEventListener("beforeunload", (event) => live && event.preventDefault());

let sending = null;
async function tell() {
  sending ??= sendAll(csrf).finally(() => (sending = null));
  words(await waiting());
}

function words({ pieces, photos, refused }) {
  const what = [pieces && `${pieces} ${pieces === 1 ? "second" : "seconds"} of sound`, photos && `${photos} ${photos === 1 ? "photo" : "photos"}`].filter(Boolean).join(" and ");
  const line = navigator.onLine === false ? "There is no Wi-Fi. They are sent when it is back." : "They are being sent.";
  say("#sent", refused || (what ? `Only on this phone so far: ${what}. ${line}` : live ? "All but the last second is on the shop's computer." : "Everything is on the shop's computer."));
}

let wasBusy = true;
async function look() {
  const state = await waiting();
  if (state.pieces || state.photos || state.takes) await tell();
  else words(state);
  if (live) return;
  const busy = document.querySelector("[data-busy]");
  if (!busy && !wasBusy) return;
  wasBusy = Boolean(busy) || Boolean(state.takes);
  const answer = await fetch(`/bench/${job}/heard`).catch(() => null);
  if (answer?.ok && !answer.redirected) document.querySelector("#heard").innerHTML = await answer.text();
}

document.querySelector("#photo").addEventListener("change", async (event) => {
  for (const file of event.target.files) await keepPhoto(job, file);
  event.target.value = "";
  wasBusy = true;
  tell();
});

button.addEventListener("click", () => {
  wasBusy = true;
  return live ? stop() : start();
});
addEventListener("online", tell);
document.body.classList.add("script");
button.hidden = false;
endBroken().then(tell);
setInterval(look, 2500);
