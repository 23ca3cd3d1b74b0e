// Jobs come and go as files and as links.
import { el, tell, trouble } from "./calc.js?v={{.Version}}";
import { fromLink, toLink } from "./job.js?v={{.Version}}";

const $ = (id) => document.getElementById(id);

// openLink loads the job that the page's address holds; it reports whether it did.
export async function openLink(load) {
  if (!location.hash.startsWith("#job=")) return false;
  let text;
  try {
    text = await fromLink(location.hash);
  } catch (e) {
    trouble("This link holds no job that can be read: " + (e instanceof RangeError ? "it is longer than any job." : "it was cut off or changed on its way."));
    return false;
  }
  return load(text, "This link", "From a link");
}

// save gives a value to the person as a JSON file.
export function save(value, name) {
  const url = URL.createObjectURL(new Blob([JSON.stringify(value, null, 2) + "\n"], { type: "application/json" }));
  el("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}

// files wires the buttons up. The page gives its job, judges and works it, and loads another.
export function files(page) {
  $("open").addEventListener("click", () => $("file").click());
  $("file").addEventListener("change", async (e) => {
    const file = e.target.files[0];
    if (file) page.load(await file.text(), `The file ${file.name}`, file.name.replace(/\.json$/, ""));
    e.target.value = ""; // the same file can be opened again
  });
  $("save").addEventListener("click", () => {
    save(page.job(), "job.json");
    tell("The job is saved.");
  });
  $("share").addEventListener("click", () => share(page));
}

async function share(page) {
  const { job, faults } = page.judge();
  if (faults.length > 0) {
    page.work(false);
    $("faults").scrollIntoView({ block: "center" });
    tell("No link: the job has faults.");
    return;
  }
  const fragment = await toLink(job);
  history.replaceState(null, "", fragment);
  $("link").value = location.href;
  $("shared").hidden = false;
  let said = "The link is copied.";
  try {
    await navigator.clipboard.writeText(location.href);
  } catch {
    said = "The link is in the field below, to be copied.";
    $("link").focus();
    $("link").select();
  }
  tell(said);
  $("share").textContent = said === "The link is copied." ? "Link copied" : "Copy a link to it";
  setTimeout(() => { $("share").textContent = "Copy a link to it"; }, 3000);
}
