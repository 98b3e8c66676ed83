// The camera within the page, so that recording goes on while a photo is taken.
import { keepPhoto } from "./sending.js";

const VIEW = { facingMode: { ideal: "environment" }, width: { ideal: 3840 }, height: { ideal: 2160 } };
const box = document.querySelector("#camera");
const finder = document.querySelector("#finder");
const words = document.querySelector("#camera-words");
const shoot = document.querySelector("#shoot");
let taken = 0;

const two = (n) => String(n).padStart(2, "0");

// The day and time in the name is how the photo is placed beside what was said.
function named(at) {
  const day = `${at.getFullYear()}${two(at.getMonth() + 1)}${two(at.getDate())}`;
  return `${day}_${two(at.getHours())}${two(at.getMinutes())}${two(at.getSeconds())}-bench.jpg`;
}

async function open() {
  words.textContent = "";
  shoot.disabled = true;
  box.showModal();
  try {
    finder.srcObject = await navigator.mediaDevices.getUserMedia({ video: VIEW });
    await finder.play();
    shoot.disabled = false;
    shoot.focus();
  } catch (error) {
    words.textContent = error.name === "NotAllowedError" ? "The phone does not let this page use the camera. Allow it in the phone's settings." : "No camera was found. Use Photos instead.";
  }
}

function close() {
  finder.srcObject?.getTracks().forEach((track) => track.stop());
  finder.srcObject = null;
}

async function take(job, tell) {
  const at = new Date();
  const sheet = new OffscreenCanvas(finder.videoWidth, finder.videoHeight);
  sheet.getContext("2d").drawImage(finder, 0, 0);
  const jpeg = await sheet.convertToBlob({ type: "image/jpeg", quality: 0.92 });
  try {
    await keepPhoto(job, new File([jpeg], named(at)));
    taken += 1;
    words.textContent = `${taken} taken. Say what it shows.`;
  } catch {
    words.textContent = "This phone is full: the photo was not kept.";
  }
  tell();
}

export function camera(job, tell) {
  const button = document.querySelector("#open-camera");
  if (!navigator.mediaDevices?.getUserMedia || !globalThis.OffscreenCanvas) return;
  button.hidden = false;
  button.addEventListener("click", open);
  shoot.addEventListener("click", () => take(job, tell));
  document.querySelector("#close-camera").addEventListener("click", () => box.close());
  box.addEventListener("close", close);
}
