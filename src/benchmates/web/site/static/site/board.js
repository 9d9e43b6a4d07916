/* Keys of the wall: arrows change stage, b blanks and shows again, Escape leaves. */

const blank = () => {
  const on = document.body.classList.toggle("blank");
  document.querySelector("main").inert = on;
  document.title = on ? "Blank" : document.querySelector("h1").textContent;
};

addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key.toLowerCase() === "b") { blank(); event.preventDefault(); return; }
  if (document.body.classList.contains("blank")) return;
  const where = { ArrowRight: "after", PageDown: "after", ArrowLeft: "before", PageUp: "before", Escape: "leave" }[event.key];
  document.getElementById(where ?? "")?.click();
});
addEventListener("click", () => { if (document.body.classList.contains("blank")) blank(); });
