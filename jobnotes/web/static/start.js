// Choosing a job: what is still on this phone is sent from here too.
import { waiting, sendAll, endBroken } from "./sending.js";
import { keepThisPage } from "./keeping.js";

const place = document.querySelector("#sent");
async function look() {
  await sendAll(place.dataset.csrf);
  const { pieces, photos, refused } = await waiting();
  place.textContent = refused || (pieces || photos ? "Sound or photos on this phone are not on the shop's computer yet." : "");
}
endBroken().then(look);
keepThisPage();
addEventListener("online", look);
setInterval(look, 5000);
