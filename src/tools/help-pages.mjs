/** The guides and function pages as plain web pages, for the add-in's help links. Reads the Markdown the docs use. */
import fs from "node:fs";
import path from "node:path";

function escape(text) {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

/** Address of the page made of a guide; undefined for files that are not among the help pages. */
function pageAddress(target, from, known) {
  if (/^[a-z]+:/.test(target) || target.startsWith("#")) return target;
  const [file, anchor] = target.split("#");
  const full = path.posix.normalize(path.posix.join(path.posix.dirname(from), file));
  if (!known.has(full)) return undefined;
  return file.replace(/\.md$/, ".html") + (anchor === undefined ? "" : `#${anchor}`);
}

function inline(text, from, known) {
  return (
    text
      .split(/(`[^`]+`)/)
      .map((part) => {
        if (part.startsWith("`") && part.endsWith("`") && part.length > 1) {
          return `<code>${escape(part.slice(1, -1))}</code>`;
        }
        return escape(part)
          .replaceAll("\\|", "|")
          .replace(/!\[([^\]]*)\]\(([^)]+)\)/g, '<img alt="$1" src="$2">')
          .replace(/\*\*([^*]+)\*\*/g, "<strong>$1</strong>")
          .replace(/(?<![\w*])\*([^*\s][^*]*)\*(?![\w*])/g, "<em>$1</em>")
          .replace(/(?<!\w)_([^_\s][^_]*)_(?!\w)/g, "<em>$1</em>");
      })
      .join("")
      // links last: their text may hold code
      .replace(/\[((?:[^\][]|\[[^\]]*\])+)\]\(([^)\s]+)\)/g, (_whole, label, target) => {
        const address = pageAddress(target, from, known);
        return address === undefined ? label : `<a href="${address}">${label}</a>`;
      })
  );
}

function anchorOf(title) {
  return title
    .toLowerCase()
    .replace(/[^\w\s-]/g, "")
    .trim()
    .replace(/\s+/g, "-");
}

function cells(line) {
  return line
    .trim()
    .replace(/^\||\|$/g, "")
    .split(/(?<!\\)\|/)
    .map((cell) => cell.trim());
}

/** Body of a page. `from` is the guide's path below docs/. */
export function htmlOf(markdown, from, known) {
  const lines = markdown.replace(/\r/g, "").split("\n");
  const out = [];
  const text = (line) => inline(line, from, known);
  for (let at = 0; at < lines.length;) {
    const line = lines[at];
    const heading = /^(#{1,4}) (.*)$/.exec(line);
    if (line.trim() === "") at++;
    else if (heading) {
      const level = heading[1].length;
      out.push(`<h${level} id="${anchorOf(heading[2])}">${text(heading[2])}</h${level}>`);
      at++;
    } else if (line.startsWith("```")) {
      const code = [];
      for (at++; at < lines.length && !lines[at].startsWith("```"); at++) code.push(lines[at]);
      at++;
      out.push(`<pre><code>${escape(code.join("\n"))}</code></pre>`);
    } else if (line.startsWith("|")) {
      const rows = [];
      for (; at < lines.length && lines[at].startsWith("|"); at++) rows.push(cells(lines[at]));
      const [head, , ...body] = rows;
      const row = (tag) => (each) =>
        `<tr>${each.map((cell) => `<${tag}>${text(cell)}</${tag}>`).join("")}</tr>`;
      out.push(
        `<div class="wide"><table><thead>${row("th")(head)}</thead><tbody>${body.map(row("td")).join("")}</tbody></table></div>`
      );
    } else if (/^(?:-|\d+\.) /.test(line)) {
      const tag = line.startsWith("-") ? "ul" : "ol";
      const items = [];
      for (; at < lines.length && lines[at].trim() !== ""; at++) {
        const item = /^(?:-|\d+\.) (.*)$/.exec(lines[at]);
        if (item) items.push(item[1]);
        else items[items.length - 1] += ` ${lines[at].trim()}`;
      }
      out.push(`<${tag}>${items.map((item) => `<li>${text(item)}</li>`).join("")}</${tag}>`);
    } else {
      const paragraph = [];
      for (
        ;
        at < lines.length && lines[at].trim() !== "" && !/^(?:\||```|#)/.test(lines[at]);
        at++
      ) {
        paragraph.push(lines[at].trim());
      }
      out.push(`<p>${text(paragraph.join(" "))}</p>`);
    }
  }
  return out.join("\n");
}

const STYLE = `body{max-width:52rem;margin:2rem auto;padding:0 1rem;font:16px/1.5 system-ui,sans-serif;color:#1f2933;background:#fff}
table{border-collapse:collapse}th,td{border:1px solid #bcc4ce;padding:.25rem .5rem;text-align:left;vertical-align:top}
.wide{overflow-x:auto}code,pre{font-family:ui-monospace,monospace;font-size:.9em}pre{background:#f1f4f7;padding:.75rem;overflow-x:auto}img{max-width:100%}
@media (prefers-color-scheme:dark){body{color:#e4e7eb;background:#1b1f24}pre{background:#2a3038}a{color:#8ec7ff}th,td{border-color:#52606d}}`;

/** Writes a page for every guide. Returns their paths below the target. */
export function writeHelp(docs, target) {
  const names = [
    ...["functions.md", "cell-errors.md", "install.md", "first-house.md", "script-host.md"],
    ...fs
      .readdirSync(path.join(docs, "functions"))
      .filter((name) => name.endsWith(".md"))
      .map((name) => `functions/${name}`),
  ].filter((name) => fs.existsSync(path.join(docs, name)));
  const known = new Set(names);
  for (const name of names) {
    const markdown = fs.readFileSync(path.join(docs, name), "utf8");
    const title = /^# (.*)$/m.exec(markdown)?.[1] ?? name;
    const page = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escape(title)}</title><style>${STYLE}</style></head><body>
${htmlOf(markdown, name, known)}
</body></html>
`;
    const file = path.join(target, name.replace(/\.md$/, ".html"));
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, page);
  }
  for (const folder of ["functions", "pictures"]) {
    const from = path.join(docs, folder);
    if (!fs.existsSync(from)) continue;
    for (const name of fs.readdirSync(from).filter((each) => /\.(?:svg|png)$/.test(each))) {
      fs.mkdirSync(path.join(target, folder), { recursive: true });
      fs.copyFileSync(path.join(from, name), path.join(target, folder, name));
    }
  }
  return names.map((name) => name.replace(/\.md$/, ".html"));
}
