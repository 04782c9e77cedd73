// On a narrow window the sections behind the answer start folded, and their headings are the list of contents.
// Without a script, and on paper, all of them are open.

const parts = [...document.querySelectorAll("details.fold")];

function unfold(hash) {
  const part = hash.length > 1 && document.getElementById(decodeURIComponent(hash.slice(1)));
  const fold = part && part.querySelector("details.fold");
  if (!fold || fold.open) return;
  fold.open = true;
  part.scrollIntoView();
}

if (matchMedia("(max-width: 640px)").matches) {
  for (const part of parts) part.open = false;
  for (const list of document.querySelectorAll("nav.contents")) list.hidden = true;
  unfold(location.hash);
}

// Properties, not listeners: a page that is put in place of this one sets its own.
window.onhashchange = () => unfold(location.hash);
let folded = [];
window.onbeforeprint = () => {
  folded = parts.filter((part) => !part.open);
  for (const part of folded) part.open = true;
};
window.onafterprint = () => {
  for (const part of folded) part.open = false;
};
