// Choosing a job by voice: heard until a pause, answered by the job itself or by those it may be.
const MOST_MS = 10000;
const QUIET = 0.012; // of full scale: below ordinary speech at an arm's length; tried, no source
const PAUSE_MS = 1300;
const LOOK_MS = 100;
const button = document.querySelector("#say-job");
const place = document.querySelector("#which");
const words = document.querySelector("#say-words");
let heard = null;

function level({ meter, samples }) {
  meter.getFloatTimeDomainData(samples);
  return Math.sqrt(samples.reduce((sum, one) => sum + one * one, 0) / samples.length);
}

async function begin() {
  const stream = await navigator.mediaDevices.getUserMedia({ audio: { channelCount: 1, noiseSuppression: false, echoCancellation: false } });
  const context = new AudioContext();
  const meter = context.createAnalyser();
  context.createMediaStreamSource(stream).connect(meter);
  const recorder = new MediaRecorder(stream, { audioBitsPerSecond: 48000 });
  const pieces = [];
  recorder.addEventListener("dataavailable", ({ data }) => pieces.push(data));
  recorder.addEventListener("stop", () => {
    stream.getTracks().forEach((track) => track.stop());
    context.close();
    send(new Blob(pieces));
  });
  recorder.start();
  heard = { recorder, meter, samples: new Float32Array(meter.fftSize), since: Date.now(), spoke: false, quiet: 0 };
  heard.clock = setInterval(look, LOOK_MS);
  show("Listening … say the machine, the customer, or “new job”");
}

function look() {
  const loud = level(heard) > QUIET;
  heard.spoke ||= loud;
  heard.quiet = loud ? 0 : heard.quiet + LOOK_MS;
  if ((heard.spoke && heard.quiet > PAUSE_MS) || Date.now() - heard.since > MOST_MS) end();
}

function end() {
  clearInterval(heard.clock);
  heard.recorder.stop();
  heard = null;
  show("One moment …");
}

async function send(body) {
  const headers = { "x-csrf": button.dataset.csrf, "content-type": "application/octet-stream" };
  const answer = await fetch("/bench/spoken", { method: "POST", body, headers }).catch(() => null);
  show("Say which job");
  if (answer?.redirected) location.assign(answer.url);
  else if (answer?.ok) place.innerHTML = await answer.text();
  else place.textContent = answer ? "It was not understood. Say it again, or choose below." : "There is no Wi-Fi. Choose below.";
}

function show(text) {
  words.textContent = text;
  button.setAttribute("aria-pressed", String(Boolean(heard)));
}

if (navigator.mediaDevices?.getUserMedia && globalThis.MediaRecorder) {
  button.hidden = false;
  button.addEventListener("click", () => (heard ? end() : begin().catch(() => (place.textContent = "The microphone cannot be used."))));
}
