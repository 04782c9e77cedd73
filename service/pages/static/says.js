// The sentences of scripts: the page holds them, in its language, with a name each and with places in braces.

/** The sentence of that name with what is placed in it. */
export function says(name, placed = {}) {
  return filled(held(name).value, placed);
}

/** The sentence of that name in the form that goes with the number, from 1 up, which is placed in it too. */
export function saysNumber(name, number, placed = {}) {
  const forms = held(name);
  const form = forms.children[Number(forms.dataset.forms[number - 1])];
  return filled(form.value, { ...placed, number });
}

/** A text of the page with what is placed in it. */
export function filled(text, placed) {
  return text.replace(/\{(\w+)\}/g, (_, place) => placed[place]);
}

function held(name) {
  return document.querySelector(`[data-says="${name}"]`);
}
