// The recorder: a second's piece at a time onto the phone, a fresh recorder every few minutes.
import { keepPiece, openTake, endTake } from "./sending.js";

const PIECE_MS = 1000;
const QUIET = 0.012; // of full scale: below ordinary speech at an arm's length; tried, no source
const QUIET_MS = 350; // a pause between words, so that a part never ends within one
const LATEST = 1.25; // of a part's length: where no pause comes, the part ends all the same
const DEAD = 1e-5; // of full scale: no microphone is as silent as that
const DEAD_MS = 5000;
const LOOK_MS = 100;

// Noise suppression takes steady sounds away, and parts of words with them; nobody plays sound back here.
const SOUND = { channelCount: 1, autoGainControl: true, noiseSuppression: false, echoCancellation: false };

// `tell` is given what happens: "began", "kept" (a piece), "full", "dead", "away", "back", "ended".
export async function record(job, partMs, tell) {
  const stream = await navigator.mediaDevices.getUserMedia({ audio: SOUND });
  const name = [...crypto.getRandomValues(new Uint8Array(16))].map((n) => n.toString(16).padStart(2, "0")).join("");
  const take = { name, job, stream, parts: [], recorder: null, kept: Promise.resolve(), since: Date.now(), partMs, tell, quiet: 0, dead: 0 };
  navigator.locks.request(`take-${name}`, () => new Promise((free) => (take.free = free)));
  await openTake({ take: name, job });
  take.meter = meterOf(stream);
  const track = stream.getTracks()[0];
  track.addEventListener("ended", () => stop(take));
  track.addEventListener("mute", () => tell("away"));
  track.addEventListener("unmute", () => tell("back"));
  startPart(take);
  take.clock = setInterval(() => look(take), LOOK_MS);
  tell("began");
  return take;
}

function meterOf(stream) {
  const context = new AudioContext();
  const meter = context.createAnalyser();
  context.createMediaStreamSource(stream).connect(meter);
  return { context, meter, samples: new Float32Array(meter.fftSize) };
}

function startPart(take) {
  const part = { pieces: 0, bytes: 0, started_ms: Date.now() };
  const number = take.parts.push(part) - 1;
  take.recorder = new MediaRecorder(take.stream, { audioBitsPerSecond: 64000 });
  take.recorder.addEventListener("dataavailable", ({ data }) => {
    if (!data.size) return;
    const piece = { take: take.name, part: number, number: part.pieces, offset: part.bytes, job: take.job };
    part.pieces += 1;
    part.bytes += data.size;
    const parts = take.parts.map((one) => ({ ...one }));
    take.kept = take.kept.then(() => keepPiece(piece, data, parts)).then(() => take.tell("kept"), () => full(take));
  });
  take.recorder.start(PIECE_MS);
}

// The phone could not keep a piece: to go on would be to record what nobody will ever hear.
function full(take) {
  take.tell("full");
  stop(take);
}

function level({ meter }) {
  meter.meter.getFloatTimeDomainData(meter.samples);
  return Math.sqrt(meter.samples.reduce((sum, one) => sum + one * one, 0) / meter.samples.length);
}

function look(take) {
  if (take.stopping) return;
  take.level = level(take);
  take.quiet = take.level < QUIET ? take.quiet + LOOK_MS : 0;
  const sounds = take.level >= DEAD || take.muted;
  if (sounds && take.dead >= DEAD_MS) take.tell("back");
  take.dead = sounds ? 0 : take.dead + LOOK_MS;
  if (take.dead === DEAD_MS) take.tell("dead");
  const age = Date.now() - take.parts.at(-1).started_ms;
  if ((age > take.partMs && take.quiet >= QUIET_MS) || age > take.partMs * LATEST) {
    take.recorder.stop();
    startPart(take);
  }
}

// What the phone itself says must not be taken for the technician's words: it hears silence meanwhile.
export function mute(take, muted) {
  take.muted = muted;
  for (const track of take.stream.getAudioTracks()) track.enabled = !muted;
}

export async function stop(take) {
  if (take.stopping) return;
  take.stopping = true;
  clearInterval(take.clock);
  await endPart(take.recorder);
  await take.kept;
  take.stream.getTracks().forEach((track) => track.stop());
  await take.meter.context.close();
  await endTake(take.name, take.parts);
  take.free();
  take.tell("ended");
}

function endPart(recorder) {
  return new Promise((ended) => {
    recorder.addEventListener("stop", ended, { once: true });
    if (recorder.state === "inactive") ended();
    else recorder.stop();
  });
}
