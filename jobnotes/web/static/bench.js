// The bench: one control to record, what was understood as it comes, and what is not sent yet.
import { record, stop, mute } from "./recording.js";
import { keepPhoto, waiting, sendAll, endBroken } from "./sending.js";
import { learn, news, hush } from "./aloud.js";
import { camera } from "./camera.js";
import { keepThisPage } from "./keeping.js";

const LOOK_MS = 2500;
const ON_THE_WAY = 3; // pieces that are being sent while one speaks: no reason to say anything
const box = document.querySelector("#recorder");
const button = document.querySelector("#record");
const heard = document.querySelector("#heard");
const { job, csrf } = box.dataset;
const partMs = Number(box.dataset.partSeconds) * 1000;
const say = (id, words) => {
  const place = document.querySelector(id);
  if (place.textContent !== words) place.textContent = words;
};

let live = null; // the take that goes on

const ALARMS = {
  full: "This phone is full, so the recording was stopped. What was kept before is safe.",
  dead: "The microphone gives no sound at all. Is it covered, or used by another app?",
  away: "The phone has taken the microphone away, perhaps for a call. Nothing is recorded now.",
  back: "",
  began: "",
  NotAllowedError: "The phone does not let this page use the microphone. Allow it in the phone's settings.",
  NotFoundError: "No microphone was found.",
};

function happened(what) {
  if (what === "full" && live) live.full = true;
  if (what in ALARMS) say("#alarm", ALARMS[what]);
  if (what === "ended") {
    if (!live?.full) say("#alarm", "");
    live = null;
    hush();
  }
  if (what === "began" || what === "ended") show();
  if (what === "kept" || what === "ended") tell();
}

async function start() {
  try {
    live = await record(job, partMs, happened);
    learn();
    keepAwake();
  } catch (error) {
    say("#alarm", ALARMS[error.name] ?? `Recording did not start: ${error.message}`);
  }
  show();
}

function show() {
  button.disabled = false;
  button.setAttribute("aria-pressed", String(Boolean(live)));
  document.body.classList.toggle("recording", Boolean(live));
  say("#record-words", live ? "Stop" : "Record");
}

setInterval(() => {
  const seconds = live ? Math.floor((Date.now() - live.since) / 1000) : 0;
  say("#elapsed", live ? `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}` : "");
  const loud = live ? Math.min(1, (live.level ?? 0) * 8) : 0;
  button.style.setProperty("--loud", loud.toFixed(2));
}, 100);

async function keepAwake() {
  try {
    if (live) await navigator.wakeLock?.request("screen");
  } catch {
    return; // a low battery refuses it; recording goes on while the page is in front
  }
}
document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && keepAwake());
addEventListener("beforeunload", (event) => live && event.preventDefault());

let sending = null;
async function tell() {
  sending ??= sendAll(csrf).finally(() => (sending = null));
  words(await waiting());
}

const count = (n, one, many) => n && `${n} ${n === 1 ? one : many}`;

function words({ pieces, photos, refused }) {
  const held = live && navigator.onLine !== false && pieces <= ON_THE_WAY ? 0 : pieces;
  const what = [count(held, "second of sound", "seconds of sound"), count(photos, "photo", "photos")].filter(Boolean).join(" and ");
  const line = navigator.onLine === false ? "There is no Wi-Fi. They are sent when it is back." : "They are being sent.";
  const all = live ? "All but the last seconds are on the shop's computer." : "Everything is on the shop's computer.";
  say("#sent", refused || (what ? `Only on this phone so far: ${what}. ${line}` : all));
  box.classList.toggle("unsent", Boolean(what || refused));
}

async function look() {
  const state = await waiting();
  if (state.pieces || state.photos || state.takes) await tell();
  else words(state);
}

let shown = heard.innerHTML;
const source = new EventSource(`/bench/${job}/news`);
source.addEventListener("message", ({ data }) => {
  if (data === shown) return;
  shown = data;
  heard.innerHTML = data;
  news(live, mute);
});

document.querySelector("#photo").addEventListener("change", async (event) => {
  for (const file of event.target.files) await keepPhoto(job, file);
  event.target.value = "";
  tell();
});

button.addEventListener("click", () => {
  button.disabled = true;
  return live ? stop(live) : start();
});
addEventListener("online", tell);
addEventListener("offline", look);
document.body.classList.add("script");
button.hidden = false;
camera(job, tell);
learn();
endBroken().then(tell);
keepThisPage();
setInterval(look, LOOK_MS);
