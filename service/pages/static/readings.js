// Lets a file be dropped anywhere on the panel of readings; without this it is chosen by the field.

for (const panel of document.querySelectorAll(".drop-here")) {
  const field = panel.querySelector("input[type=file]");
  const over = (event) => {
    if (!event.dataTransfer || !event.dataTransfer.types.includes("Files")) return;
    event.preventDefault();
    panel.classList.add("dropping");
  };
  panel.addEventListener("dragenter", over);
  panel.addEventListener("dragover", over);
  panel.addEventListener("dragleave", () => panel.classList.remove("dropping"));
  panel.addEventListener("drop", (event) => {
    if (!event.dataTransfer || event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    panel.classList.remove("dropping");
    field.files = event.dataTransfer.files;
  });
}

const trouble = document.querySelector(".trouble[id]");
if (trouble) {
  trouble.setAttribute("tabindex", "-1");
  trouble.focus();
}
