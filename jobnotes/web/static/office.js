// Review without page reloads, and by single keys. Every step is an ordinary form; this only sends it.
const main = document.querySelector("main");
const player = new Audio();
let stopAt = Infinity;

const facts = () => [...main.querySelectorAll(".fact")];
const current = () => main.querySelector(".fact[aria-current]");

function mark(fact) {
  main.querySelectorAll(".marked").forEach((word) => word.classList.remove("marked"));
  for (const spot of fact.dataset.spots.split(" ").filter(Boolean)) {
    const [recording, range] = spot.split(":");
    const [first, last] = range.split("-").map(Number);
    for (let n = first; n <= last; n++) {
      main.querySelector(`[data-word="${recording}:${n}"]`)?.classList.add("marked");
    }
  }
  const word = main.querySelector(".marked");
  const box = word?.closest(".said");
  if (box) box.scrollTop += word.getBoundingClientRect().top - box.getBoundingClientRect().top - box.clientHeight / 3;
}

function choose(fact, focus = true) {
  if (!fact) return;
  current()?.removeAttribute("aria-current");
  fact.setAttribute("aria-current", "true");
  mark(fact);
  if (focus) {
    fact.focus({ preventScroll: true });
    fact.scrollIntoView({ block: "nearest" });
  }
}

function play(fact) {
  if (!player.paused) return player.pause();
  const source = main.querySelector(`audio[data-recording="${fact.dataset.recording}"]`);
  if (!source) return undefined;
  // Half a second on each side, so that the ear finds its place.
  stopAt = Number(fact.dataset.end) + 0.5;
  const whole = source.getAttribute("src").split("#")[0];
  if (!player.src.endsWith(whole)) player.src = whole;
  player.currentTime = Math.max(0, Number(fact.dataset.start) - 0.5);
  return player.play();
}
player.addEventListener("timeupdate", () => player.currentTime >= stopAt && player.pause());

function swap(html, url) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const top = scrollY;
  main.innerHTML = page.querySelector("main").innerHTML;
  document.title = page.title;
  const chosen = url.hash && main.querySelector(url.hash);
  scrollTo(0, top);
  showKeys();
  if (main.querySelector("[role=alert]")) return main.focus();
  return chosen?.matches(".fact") ? choose(chosen) : chosen ? chosen.querySelector("input:not([type=hidden])")?.focus() : choose(current(), false);
}

async function send(form, button) {
  const body = new URLSearchParams(new FormData(form, button));
  form.querySelectorAll("button").forEach((one) => (one.disabled = true));
  let answer;
  try {
    answer = await fetch(form.action, { method: "POST", body });
  } catch {
    form.querySelectorAll("button").forEach((one) => (one.disabled = false));
    form.insertAdjacentText("beforeend", ` ${main.dataset.noAnswer}`);
    return;
  }
  // A fetch that follows a redirect loses the fragment, so the fact is named in the query too.
  const url = new URL(answer.url);
  const fact = url.searchParams.get("fact");
  const step = body.get("step");
  if (["caption", "show", "leave-out", "earlier", "later"].includes(step)) url.hash = `photo-${CSS.escape(body.get("subject"))}`;
  else if (fact) url.hash = `fact-${CSS.escape(fact)}`;
  swap(await answer.text(), url);
}

main.addEventListener("submit", (event) => {
  if (!event.target.matches("[data-in-place]")) return;
  event.preventDefault();
  send(event.target, event.submitter);
});

main.addEventListener("click", (event) => {
  if (event.target.closest("#keys-on")) return turnKeys();
  const fact = event.target.closest(".fact");
  if (!fact) return undefined;
  if (fact !== current()) choose(fact, false);
  if (event.target.closest("[data-play]")) {
    event.preventDefault();
    play(fact);
  }
  return undefined;
});

main.addEventListener("focusin", (event) => {
  const fact = event.target.closest(".fact");
  if (fact && fact !== current()) choose(fact, false);
});

const keysOn = () => localStorage.getItem("single-keys") !== "off";

function showKeys() {
  const button = main.querySelector("#keys-on");
  if (!button) return;
  button.hidden = false;
  button.setAttribute("aria-pressed", String(keysOn()));
  button.textContent = keysOn() ? button.dataset.on : button.dataset.off;
}

function turnKeys() {
  localStorage.setItem("single-keys", keysOn() ? "off" : "on");
  showKeys();
}

function step(by) {
  const all = facts();
  const here = all.indexOf(current());
  const inside = document.activeElement.closest(".fact");
  choose(all[Math.min(all.length - 1, Math.max(0, inside ? here + by : here))]);
}

// Words that are selected in what was said go along to the page that adds a fact.
function selectedPlace() {
  const chosen = getSelection();
  if (!chosen.rangeCount || chosen.isCollapsed) return "";
  const words = [...main.querySelectorAll(".said [data-word]")].filter((word) => chosen.containsNode(word, true));
  const spots = words.map((word) => word.dataset.word.split(":"));
  if (!spots.length || spots[0][0] !== spots.at(-1)[0]) return "";
  return `${spots[0][0]}:${spots[0][1]}-${spots.at(-1)[1]}`;
}

// A press on the link itself takes the selection away; what was chosen before still counts then.
function aim() {
  const link = main.querySelector("#add-fact");
  const place = selectedPlace();
  const left = !getSelection().anchorNode?.parentElement?.closest(".said");
  if (link && (place || !left)) link.search = place ? new URLSearchParams({ place }) : "";
  return link;
}
document.addEventListener("selectionchange", aim);

const moves = {
  j: () => step(1),
  k: () => step(-1),
  p: (fact) => fact && play(fact),
  e: (fact) => {
    const form = fact?.querySelector("details");
    if (!form) return;
    form.open = true;
    form.querySelector("input:not([type=hidden]), select, textarea").focus();
  },
  // What is in doubt takes two presses: one to get to the button, one to say so.
  c: (fact) => fact?.querySelector("[data-ask=c]")?.focus() ?? fact?.querySelector("[data-key=c]")?.click(),
  s: (fact) => fact?.querySelector("[data-key=s]")?.focus(),
  x: (fact) => fact?.querySelector("[data-key=x]")?.click(),
  o: (fact) => fact?.querySelector("[data-key=o]")?.click(),
  a: () => aim()?.click(),
  u: () => main.querySelector("[data-key=u]")?.click(),
  i: () => main.querySelector("[data-key=i]")?.focus(),
};

document.addEventListener("keydown", (event) => {
  const typing = event.target.matches("input, select, textarea");
  if (event.key === "Escape" && typing) return event.target.closest(".fact")?.focus();
  const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
  const move = moves[event.key.toLowerCase()];
  if (typing || !plain || !move || !keysOn() || !main.querySelector("#keys-on")) return undefined;
  event.preventDefault();
  move(current());
  return undefined;
});

showKeys();
