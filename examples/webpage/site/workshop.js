// The card for the workshop: shown over the page, and printed alone.
import { ask, tell } from "./calc.js?v={{.Version}}";

const $ = (id) => document.getElementById("workshop-" + id), dialog = document.getElementById("workshop");

// workshop wires the card up. Job gives the one that the page shows, undefined while it has a fault.
export function workshop(job) {
  $("show").addEventListener("click", () => {
    const now = job(), card = now && ask("wheelrateCard", JSON.stringify(now));
    if (!card?.html) return tell("No card: the job has faults.");
    $("card").innerHTML = card.html; // the library's own, whose texts are escaped
    dialog.showModal();
    return $("print").focus();
  });
  $("print").addEventListener("click", () => print());
  $("close").addEventListener("click", () => dialog.close());
}
