// Drawing a mark with a pointer. What is drawn is put into the form's fields, which can be typed too.
const drawing = document.querySelector("#drawing");
const form = document.querySelector("#new-mark");
const ends = ["left", "top", "right", "bottom"];
const shape = () => new FormData(form).get("shape");

function place(event) {
  const box = drawing.getBoundingClientRect();
  const part = (at, start, size) => Math.min(100, Math.max(0, (100 * (at - start)) / size));
  return [part(event.clientX, box.left, box.width), part(event.clientY, box.top, box.height)];
}

function path(left, top, right, bottom) {
  const { width, height } = drawing.querySelector("svg").viewBox.baseVal;
  const at = (x, y) => `${((x * width) / 100).toFixed(1)} ${((y * height) / 100).toFixed(1)}`;
  if (shape() === "circle") {
    const rx = (Math.abs(right - left) * width) / 200;
    const ry = (Math.abs(bottom - top) * height) / 200;
    const middle = (top + bottom) / 2;
    return `M${at(left, middle)}A${rx} ${ry} 0 1 1 ${at(right, middle)}A${rx} ${ry} 0 1 1 ${at(left, middle)}`;
  }
  if (shape() === "arrow") return `M${at(left, top)}L${at(right, bottom)}`;
  return `M${at(left, top)}L${at(right, top)}L${at(right, bottom)}L${at(left, bottom)}Z`;
}

function show() {
  const typed = ends.map((end) => Number(form.elements[end].value));
  drawing.querySelectorAll(".new").forEach((line) => line.setAttribute("d", path(...typed)));
}

function fill(values) {
  ends.forEach((end, n) => (form.elements[end].value = values[n].toFixed(1)));
  show();
}

let start;
drawing.addEventListener("pointerdown", (event) => {
  if (event.button) return;
  event.preventDefault();
  drawing.setPointerCapture(event.pointerId);
  start = place(event);
});
drawing.addEventListener("pointermove", (event) => start && fill([...start, ...place(event)]));
drawing.addEventListener("pointerup", () => (start = undefined));
drawing.addEventListener("pointercancel", () => (start = undefined));
form.addEventListener("input", show);
show();
