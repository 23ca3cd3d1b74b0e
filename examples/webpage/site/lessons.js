// The lessons: a slider that is moved, or an answer that is given, goes to the library,
// and what it replies is shown.
import { ready, ask, tell, trouble } from "./calc.js?v={{.Version}}";

const lessons = [...document.querySelectorAll(".lesson")];
let loaded = false;

// show leaves the lesson of the address, or the list of all.
function show() {
  const name = location.hash.slice(1);
  const shown = lessons.find((l) => l.id === name);
  for (const l of lessons) l.hidden = l !== shown;
  document.getElementById("lessons").hidden = Boolean(shown);
  document.title = (shown ? shown.querySelector("h2").textContent + " · " : "Lessons · ") + "wheelrate";
  if (shown || name === "lessons") {
    scrollTo(0, 0);
    (shown?.querySelector("h2") ?? document.getElementById("main")).focus({ preventScroll: true });
  }
  // What a lesson works out only once is ready before its first slider is moved, and a slider
  // that was moved before the library was there is followed.
  if (shown && loaded) setTimeout(() => work(shown), 200);
}

// given returns the answer that stands in a question.
const given = (question) => question.dataset.given ?? "";

// work asks the library and shows its reply. Only a slider that was moved is read out.
function work(lesson, moved) {
  const values = {};
  for (const s of lesson.querySelectorAll("[data-slider]")) values[s.dataset.slider] = s.valueAsNumber;
  const questions = [...lesson.querySelectorAll(".question")];
  const reply = ask("wheelrateLesson", JSON.stringify({ lesson: lesson.id, values, answers: questions.map(given) }));
  trouble(reply.fault ?? "");
  if (reply.fault) return;
  for (const s of lesson.querySelectorAll("[data-slider]")) {
    const text = reply.sliders[s.dataset.slider];
    s.setAttribute("aria-valuetext", text);
    s.previousElementSibling.textContent = text;
  }
  for (const out of lesson.querySelectorAll("[data-out]")) out.innerHTML = reply[out.dataset.out];
  questions.forEach((q, i) => {
    const { ask, verdict } = reply.questions[i];
    q.querySelector(".ask").textContent = ask;
    const said = q.querySelector(".verdict");
    said.classList.toggle("right", Boolean(verdict?.right));
    if (said.innerHTML !== (verdict?.says ?? "")) said.innerHTML = verdict?.says ?? "";
  });
  if (moved) tell(reply.said);
}

function answer(question, text) {
  question.dataset.given = text;
  work(question.closest(".lesson"));
}

addEventListener("hashchange", show);
show();
await ready;
loaded = true;
const first = lessons.find((l) => !l.hidden);
if (first) work(first);
for (const lesson of lessons) {
  lesson.addEventListener("input", (e) => { if (e.target.dataset.slider) work(lesson, true); });
  for (const question of lesson.querySelectorAll(".question")) {
    question.addEventListener("submit", (e) => {
      e.preventDefault();
      answer(question, (question.querySelector("input:checked") ?? question.querySelector("input[type=text]"))?.value ?? "");
    });
    question.querySelector("[data-show]").addEventListener("click", () => answer(question, "?"));
  }
}
document.documentElement.dataset.ready = "yes";
