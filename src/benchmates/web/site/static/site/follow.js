/* Follow one pupil's thread: by the select, by a name, or by a thread. The page is complete without this script.

   Expects  <script type="application/json" id="who"> as drawing.follow.follow_data gives it, {id: {name, steps}},
            <select id="follow"> with those ids as values,  <ol id="steps">,  and any number of svg.threads.
   Whatever stands inside [data-without-script] is hidden: with this script a choice needs no button. */

const REACH = 6; // px round a press in which a thin thread still counts as hit

function mark(svg, id) {
  const thread = [...svg.querySelectorAll(".thread")].find((line) => line.dataset.p === id);
  for (const line of svg.querySelectorAll(".follow path")) line.setAttribute("d", thread?.getAttribute("d") ?? "");
  for (const name of svg.querySelectorAll(".name")) name.classList.toggle("on", name.dataset.p === id);
  for (const sleeve of svg.querySelectorAll(".sleeve")) {
    const members = sleeve.dataset.m.split(" ").map(decodeURIComponent);
    sleeve.classList.toggle("has", members.includes(id));
  }
}

function tell(list, steps) {
  list.replaceChildren(...steps.map(([at, what]) => {
    const item = document.createElement("li");
    const time = document.createElement("b");
    time.textContent = at;
    item.append(time, " " + what);
    return item;
  }));
}

/* The pupil whose name or thread lies nearest to a press. */
function pressed(event) {
  const spots = [[0, 0]];
  for (let far = 2; far <= REACH; far += 2) spots.push([0, far], [0, -far], [far, 0], [-far, 0]);
  for (const [dx, dy] of spots) {
    const hit = document.elementFromPoint(event.clientX + dx, event.clientY + dy)?.closest(".threads [data-p]");
    if (hit) return hit.dataset.p;
  }
  return null;
}

export function start(page = document) {
  const source = page.getElementById("who");
  const select = page.getElementById("follow");
  const list = page.getElementById("steps");
  if (!source || !select) return;
  const who = JSON.parse(source.textContent);
  const drawings = page.querySelectorAll(".threads:not(.glyph)");

  function follow(id) {
    if (!Object.hasOwn(who, id)) return;
    select.value = id;
    for (const svg of drawings) mark(svg, id);
    if (list) tell(list, who[id].steps);
  }

  for (const button of page.querySelectorAll("[data-without-script]")) button.hidden = true;
  select.addEventListener("change", () => follow(select.value));
  for (const svg of drawings) {
    svg.addEventListener("click", (event) => {
      const id = pressed(event);
      if (id !== null) follow(id);
    });
  }
  follow(select.value);
}

start();
