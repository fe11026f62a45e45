/* The rig from all sides: fetched only where WebGL is at hand. The drawn view outlives the pieces of the page round
   it: when a control has been answered, it moves into the new piece and asks for the new numbers. */
const can = (() => {
  try {
    const gl = document.createElement("canvas").getContext("webgl2");
    gl?.getExtension("WEBGL_lose_context")?.loseContext();
    return Boolean(gl);
  } catch { return false; }
})();

let box = null, stage = null, view = null, shown = "", wanted = true, asking = null;

const styled = (address) => new Promise((done) => {
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = address;
  link.onload = link.onerror = done;
  document.head.append(link);
});

function give(words) {
  const said = box.querySelector("[data-scene-without]");
  said.textContent = words;
  said.hidden = false;
  stage.hidden = true;
}

async function start() {
  const [made] = await Promise.all([import(box.dataset.sceneView), styled(box.dataset.sceneStyle)]);
  stage.hidden = false;
  box.querySelector("[data-scene-without]").hidden = true;
  stage.querySelector("canvas").addEventListener("webglcontextlost", (event) => {
    event.preventDefault();
    give("The browser has stopped drawing in three dimensions. The elevations show the same rig.");
  });
  return made.mount(stage);
}

/* The address of the numbers: the rig as turned, with the waves as turned further down the page. */
function asked() {
  const hs = new URLSearchParams(document.querySelector("[data-scene-sea]")?.dataset.sceneSea).get("hs");
  return hs ? `${box.dataset.scene}&hs=${encodeURIComponent(hs)}` : box.dataset.scene;
}

async function refresh() {
  const address = asked();
  if (!box.open || shown === address) return;
  shown = address;
  asking?.abort();
  asking = new AbortController();
  try {
    view ??= start();
    const drawn = await view;
    const answer = await fetch(`${address}&have=${drawn.mark}`, { signal: asking.signal });
    if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
    drawn.show(await answer.json());
  } catch (error) {
    if (error.name === "AbortError") return;
    shown = "";
    give(`This view could not be drawn (${error.message}). The elevations show the same rig.`);
  }
}

function look() {
  const found = document.querySelector("[data-scene]");
  if (!can || !found) return;
  if (found === box) { refresh(); return; }
  box = found;
  const fresh = box.querySelector("[data-scene-stage]");
  if (stage) {
    fresh.replaceWith(stage);
    box.querySelector("[data-scene-without]").hidden = !stage.hidden;
  } else stage = fresh;
  box.open = wanted;
  const here = box;
  box.addEventListener("toggle", () => { if (here === box) { wanted = box.open; refresh(); } });
  refresh();
}

document.addEventListener("htmx:after:swap", look);
look();
