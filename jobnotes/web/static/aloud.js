// Reading figures back: each new one once, in a pause, in the order in which they were said.
const button = document.querySelector("#aloud");
const heard = document.querySelector("#heard");
const status = document.querySelector("#new-figure");
const known = new Set();
let speaking = false;
let waiting = [];

export const keysNow = () => [...heard.querySelectorAll("[data-key]")];

// Whatever stands there before anything is recorded was checked when it was said.
export const learn = () => keysNow().forEach((one) => known.add(one.dataset.key));

export function news(take, mute) {
  const fresh = keysNow().filter((one) => !known.has(one.dataset.key));
  learn();
  const texts = fresh.map((one) => one.dataset.aloud).filter(Boolean).reverse();
  if (!texts.length || !take) return;
  status.textContent = texts.join(". ");
  if (button.getAttribute("aria-pressed") !== "true") return;
  waiting.push(...texts);
  speak(take, mute);
}

async function speak(take, mute) {
  if (speaking) return;
  speaking = true;
  mute(take, true);
  while (waiting.length) await said(waiting.shift());
  mute(take, false);
  speaking = false;
}

function said(text) {
  return new Promise((done) => {
    const words = new SpeechSynthesisUtterance(text);
    words.lang = "en";
    words.onend = words.onerror = done;
    setTimeout(done, 15000); // a voice that never ends must not keep the microphone shut
    speechSynthesis.speak(words);
  });
}

export function hush() {
  waiting = [];
  globalThis.speechSynthesis?.cancel();
}

function set(on) {
  button.setAttribute("aria-pressed", String(on));
  localStorage.setItem("aloud", on ? "yes" : "no");
  if (!on) hush();
}

if ("speechSynthesis" in globalThis) {
  button.hidden = false;
  set(localStorage.getItem("aloud") === "yes");
  button.addEventListener("click", () => set(button.getAttribute("aria-pressed") !== "true"));
}
