// Lines of few columns as cells, one to each entry; the text that they stand for is
// beside them, to be pasted into. A last line is always empty, for one more.
import { el } from "./calc.js?v={{.Version}}";
import { cellsOf } from "./job.js?v={{.Version}}";

const whole = (line) => line.trim().startsWith("{"); // one that is JSON
const columns = (text) => text.dataset.columns.split(",").filter((c) => !c.includes(":object")).length;

// cells puts cells before every text of a form that has heads for them.
export function cells(form) {
  for (const text of form.querySelectorAll("textarea[data-heads]")) {
    const heads = text.dataset.heads.split(",");
    const box = el("div", { class: "cells", role: "group", "aria-label": text.dataset.label }, el("div", { class: "line", "aria-hidden": "true" }, ...heads.map((h) => el("span", {}, h))));
    const raw = el("details", { class: "raw" }, el("summary", {}, "As text", el("span", { class: "unseen" }, ": " + text.dataset.label)));
    text.before(box, raw);
    raw.append(text);
    const put = (type) => () => {
      text.value = told(box, text.value.split("\n"), columns(text));
      text.dispatchEvent(new Event(type, { bubbles: true }));
    };
    box.addEventListener("input", put("input"));
    box.addEventListener("change", put("change"));
    for (const type of ["input", "change"]) box.addEventListener(type, (e) => e.stopPropagation());
  }
}

// told is the text of cells; what a line has beyond them stays. Where a cell has a comma in
// it, semicolons part them.
function told(box, before, most) {
  const lines = [...box.querySelectorAll(".line:not([aria-hidden])")].map((line, i) => {
    const shown = [...line.querySelectorAll("input")].map((c) => c.value.trim());
    if (whole(shown[0])) return shown[0];
    const rest = whole(before[i] ?? "") ? [] : cellsOf(before[i] ?? "").slice(shown.length, most), all = [...shown, ...rest];
    while (all.length && all.at(-1) === "") all.pop();
    return all.join(all.some((c) => c.includes(",")) ? "; " : ", ");
  });
  while (lines.length && lines.at(-1) === "") lines.pop();
  return lines.join("\n");
}

// refresh shows the texts of a form in their cells, without taking the focus from any.
export function refresh(form) {
  for (const text of form.querySelectorAll("textarea[data-heads]")) {
    const box = text.closest(".field").querySelector(".cells"), heads = text.dataset.heads.split(",");
    const lines = text.value.trimEnd() === "" ? [] : text.value.trimEnd().split("\n");
    const rows = [...box.querySelectorAll(".line:not([aria-hidden])")];
    for (let i = rows.length; i < lines.length + 1; i++) {
      rows[i] = el("div", { class: "line" }, ...heads.map((h) => el("input", { type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", "aria-label": `${h}, line ${i + 1}`, "aria-describedby": text.id + "-hint " + text.id + "-fault" })));
      box.append(rows[i]);
    }
    for (const row of rows.splice(lines.length + 1)) if (!row.contains(document.activeElement)) row.remove();
    rows.forEach((row, i) => {
      const inputs = [...row.querySelectorAll("input")], line = lines[i] ?? "";
      const parts = whole(line) ? [line] : cellsOf(line);
      if (!whole(line) && parts.length > inputs.length && columns(text) === inputs.length) {
        parts.splice(inputs.length - 1, parts.length, parts.slice(inputs.length - 1).join(", ")); // one too many is seen with the last
      }
      inputs.forEach((input, j) => {
        if (input !== document.activeElement && input.value !== (parts[j] ?? "")) input.value = parts[j] ?? "";
        if (i === 0) input.placeholder = text.value === "" && j === 0 ? text.placeholder : "";
      });
    });
  }
}

// markCell marks the cell of a line and a column as faulty, or the whole line.
export function markCell(text, line, column) {
  const row = text.closest(".field").querySelectorAll(".cells .line:not([aria-hidden])")[line];
  const j = text.dataset.columns.split(",").findIndex((c) => c.split(":")[0] === column);
  const inputs = [...(row?.querySelectorAll("input") ?? [])];
  for (const input of inputs[j] ? [inputs[j]] : inputs) input.setAttribute("aria-invalid", "true");
}
