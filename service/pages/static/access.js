// Where a token is wanted: keeps it for this tab, sends it with every page and form, and puts the answer in
// place of the page. Where none is kept it only minds the form that asks for one, and the browser does the rest.

const KEY = "aerial-assay-token";
const OWN_POLICY = "script-src 'self'";
let shown = 0;

/** The headers that let a request in; none where no token is kept. */
export function accessHeaders() {
  const token = sessionStorage.getItem(KEY);
  return token ? { Authorization: `Bearer ${token}` } : {};
}

/** A request to this server, let in. */
export function ask(address, options = {}) {
  const headers = { ...options.headers, ...accessHeaders() };
  return fetch(address, { ...options, headers, credentials: "omit" });
}

/** Go to an address of this server as a link does. */
export function go(address) {
  if (sessionStorage.getItem(KEY)) {
    open(address);
  } else {
    location.assign(address);
  }
}

async function open(address, options = {}, { remember = true } = {}) {
  document.documentElement.setAttribute("aria-busy", "true");
  try {
    const answer = await ask(address, { ...options, headers: { Accept: "text/html,*/*;q=0.5" } });
    const isPage = (answer.headers.get("Content-Security-Policy") || "").includes(OWN_POLICY);
    if (isPage) {
      await put(answer, remember);
    } else {
      save(await answer.blob(), answer);
    }
  } catch {
    tell(document.querySelector("[data-no-answer]").dataset.noAnswer);
  } finally {
    document.documentElement.removeAttribute("aria-busy");
  }
}

async function put(answer, remember) {
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (answer.status === 401) sessionStorage.removeItem(KEY);
  if (remember && answer.url !== location.href) history.pushState(null, "", answer.url);
  const styles = [...document.querySelectorAll("link[rel=stylesheet]")].map((link) => link.href);
  for (const link of page.querySelectorAll("link[rel=stylesheet]")) {
    if (!styles.includes(new URL(link.getAttribute("href"), location.href).href)) document.head.append(link);
  }
  document.title = page.title;
  document.body.replaceWith(page.body);
  window.scrollTo(0, 0);
  document.querySelector("main").focus();
  shown += 1;
  for (const script of page.querySelectorAll("script[src]")) {
    const source = script.getAttribute("src");
    if (!source.endsWith("/access.js")) await import(`${source}?shown=${shown}`);
  }
  mindToken(answer.status === 401 && !remember);
}

function save(content, answer) {
  const told = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition") || "");
  const isPage = content.type.startsWith("text/html");
  const link = document.createElement("a");
  link.href = URL.createObjectURL(content);
  link.download = told ? told[1] : isPage ? "report.html" : "answer";
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

function tell(text) {
  const there = document.querySelector(".told-by-script");
  const place = there || document.createElement("p");
  place.className = "told-by-script trouble";
  place.setAttribute("role", "alert");
  place.textContent = text;
  if (!there) document.querySelector("main").prepend(place);
}

function follow(event) {
  const link = event.target.closest && event.target.closest("a[href]");
  const plain = event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey;
  if (!sessionStorage.getItem(KEY) || !link || !plain || event.defaultPrevented || link.target) return;
  const within = link.getAttribute("href").startsWith("#") || link.hasAttribute("download");
  if (within || link.origin !== location.origin) return;
  event.preventDefault();
  open(link.href);
}

function send(event) {
  const form = event.target;
  if (form.matches(".token-form")) {
    event.preventDefault();
    sessionStorage.setItem(KEY, new FormData(form).get("token").trim());
    open(location.href, {}, { remember: false });
    return;
  }
  if (!sessionStorage.getItem(KEY) || event.defaultPrevented) return;
  event.preventDefault();
  const pressed = event.submitter;
  const data = new FormData(form, pressed);
  const action = (pressed && pressed.getAttribute("formaction")) || form.getAttribute("action");
  const address = new URL(action || location.href, location.href);
  if (form.method === "get") {
    address.search = new URLSearchParams(data).toString();
    open(address.href);
  } else {
    const body = form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
    open(address.href, { method: "POST", body });
  }
}

function mindToken(refused) {
  const form = document.querySelector(".token-form");
  if (!form) return;
  form.hidden = false;
  document.querySelector(".without-script").hidden = true;
  if (sessionStorage.getItem(KEY)) {
    open(location.href, {}, { remember: false });
    return;
  }
  if (refused) {
    const told = document.querySelector(".token-told");
    told.textContent = told.dataset.refused;
  }
  form.querySelector("input").focus();
}

document.addEventListener("click", follow);
document.addEventListener("submit", send);
window.addEventListener("popstate", () => {
  if (sessionStorage.getItem(KEY)) open(location.href, {}, { remember: false });
});
mindToken(false);
