/* Build the view into one file beside its licence, and write down what it was built from. `--to FOLDER` builds elsewhere. */
import { createHash } from "node:crypto";
import { copyFileSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const asked = JSON.parse(readFileSync(join(here, "package.json"), "utf8"));
for (const [name, version] of Object.entries({ ...asked.dependencies, ...asked.devDependencies })) {
  const found = JSON.parse(readFileSync(join(here, "node_modules", name, "package.json"), "utf8")).version;
  if (found !== version) throw new Error(`${name} is ${found}, package.json asks for ${version}: run npm install again`);
}
const three = asked.dependencies.three;
const to = process.argv[2] === "--to" ? process.argv[3] : join(here, "..", "src", "oakum", "web", "static", "vendor");
const file = `view3d-three-${three}.min.js`;
mkdirSync(to, { recursive: true });
await build({
  absWorkingDir: here,
  entryPoints: ["src/view.js"],
  outfile: join(to, file),
  bundle: true,
  minify: true,
  format: "esm",
  target: "es2022",
  charset: "utf8",
  legalComments: "none",
  banner: { js: `/* Oakum's view of a rig, MIT License; with parts of three.js ${three}, MIT License: three-LICENSE.txt */` },
});
copyFileSync(join(here, "node_modules", "three", "LICENSE"), join(to, "three-LICENSE.txt"));

const digest = (path) => createHash("sha256").update(readFileSync(path)).digest("hex");
const sources = ["build.mjs", "package.json", ...readdirSync(join(here, "src")).sort().map((name) => `src/${name}`)];
const lines = sources.map((name) => `${digest(join(here, name))}  ${name}`);
lines.push(`${digest(join(to, file))}  ${file}`);
if (to.endsWith(join("static", "vendor"))) {
  writeFileSync(join(here, "BUILT.sha256"), lines.join("\n") + "\n");
  const sums = join(to, "SHA256SUMS");
  const others = readFileSync(sums, "utf8").split("\n").filter((line) => line && !line.includes("  view3d-three-"));
  writeFileSync(sums, [...others, lines.at(-1)].join("\n") + "\n");
}
