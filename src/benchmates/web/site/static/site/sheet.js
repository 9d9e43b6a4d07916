/* What scripting adds; every sheet works without it. */

document.documentElement.classList.add("js");

/* A press that makes groups says so at once, and cannot be pressed twice in a hurry. */
for (const form of document.querySelectorAll("form[method=post]")) {
  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (form.dataset.sent) { event.preventDefault(); return; }
    form.dataset.sent = "yes";
    if (button?.dataset.busy) button.textContent = button.dataset.busy;
    setTimeout(() => { delete form.dataset.sent; }, 4000);
  });
}

/* A staff panel that a link points into opens; one that was opened stays open after its own form was sent. */
function openTarget() {
  const at = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  for (let place = at; place; place = place.parentElement) if (place.tagName === "DETAILS") place.open = true;
  if (at) { const inner = at.querySelector(":scope > details"); if (inner) inner.open = true; at.scrollIntoView(); }
}
addEventListener("hashchange", openTarget);
openTarget();

/* Groups as they sat: type the letter of the group, and the next name follows. */
const sat = document.querySelector(".sat");
if (sat) {
  const rows = [...sat.querySelectorAll("fieldset")];
  const say = document.getElementById("sat-count");
  const count = () => { say.textContent = `${sat.querySelectorAll("input:checked").length} of ${rows.length} sit in a group`; };
  sat.addEventListener("keydown", (event) => {
    const letter = event.key.toUpperCase();
    const row = event.target.closest("fieldset");
    if (!row || event.ctrlKey || event.metaKey || event.altKey || letter.length !== 1) return;
    const box = row.querySelector(`input[value="${CSS.escape(letter)}"]`);
    if (!box) return;
    box.checked = true;
    count();
    const next = rows[rows.indexOf(row) + 1];
    (next?.querySelector("input:checked") ?? next?.querySelector("input") ?? sat.closest("form").querySelector("button")).focus();
    event.preventDefault();
  });
  sat.addEventListener("change", count);
  count();
  rows[0]?.querySelector("input")?.focus({ preventScroll: true });
}
