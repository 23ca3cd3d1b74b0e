// The ring beside an answer: where it stands once the answer is set. Of a spring known by
// its gauge it is one more reading; of any other it is a finding of the visit, whose
// advice then stands as the next step.
import { writeUnits } from "./job.js?v={{.Version}}";
import { words } from "./faults.js?v={{.Version}}";

const $ = (id) => document.getElementById(id);
const out = (name) => document.querySelector(`[data-out="${name}"]`);
const taken = "1 mm"; // how far off a ring may be read, where nobody says

const change = (field, text) => {
  field.value = text;
  for (const type of ["input", "change"]) field.dispatchEvent(new Event(type, { bubbles: true }));
};

// rings wires both up.
export function rings() {
  for (const ring of document.querySelectorAll("[data-ring]")) {
    const end = ring.dataset.ring;
    ring.addEventListener("change", () => {
      writeUnits(ring);
      const text = ring.value.trim();
      if (!document.querySelector(`input[name="${end}"][value=gauge]`).checked) {
        change($(`visit.${end}.readings`), text && `${text}, ${taken}`);
      } else if (text) {
        const field = $(end + ".gauge.readings"), fill = out(end + ".card").querySelector(".big").firstChild.textContent;
        ring.value = "";
        change(field, `${field.value.trimEnd()}${field.value.trim() ? "\n" : ""}${fill}, ${text}`);
      }
    });
  }
}

// offerRing shows the ring of an end that has an answer.
export function offerRing(end, shown) {
  $(end + "-ring-field").hidden = !shown;
}

// advise puts what a visit says of an end in place of the next step, where its ring was read.
export function advise(steps, faults) {
  for (const end of ["front", "rear"]) {
    const ring = $(end + "-ring"), next = out(end + ".next");
    const fault = faults.filter((f) => f.field.startsWith(end + ".readings"));
    $(end + "-ring-fault").textContent = ring.value ? fault.map((f) => words(f)).join("; ") : "";
    if (next && steps[end]) next.textContent = steps[end];
  }
}
