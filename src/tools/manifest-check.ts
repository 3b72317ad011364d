/**
 * Looks a built manifest over without a network: what the host's own check would refuse, and what it would not notice
 * although the functions would never come up. Rules as the host's documentation gives them.
 */
import { attributes, nextTag, textOf } from "../host/engine/xml.js";

interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  text: string;
}

export interface FunctionMetadata {
  readonly functions: readonly {
    readonly id: string;
    readonly name: string;
    readonly description?: string;
    readonly helpUrl?: string;
    readonly parameters: readonly {
      readonly name: string;
      readonly description?: string;
      readonly optional?: boolean;
      readonly dimensionality?: string;
    }[];
    readonly result: { readonly dimensionality?: string };
  }[];
}

/** What a worksheet function is called with, as the program itself knows it. */
export interface KnownFunction {
  readonly name: string;
  readonly parameters: readonly {
    readonly name: string;
    readonly optional: boolean;
    readonly matrix: boolean;
  }[];
  readonly spills: boolean;
}

export interface BuiltFolder {
  /** address the folder will have, without a slash at the end */
  readonly base: string;
  /** whether a file, by its path in the folder, is there and not empty */
  readonly has: (path: string) => boolean;
  /** width and height of a picture */
  readonly pictureSize: (path: string) => readonly [number, number] | undefined;
}

/** Longest texts the schema allows, characters. */
const LONGEST = { resid: 32, description: 250, short: 125, long: 250, id: 125 } as const;
/** Reserved by the spreadsheet: words that are something else in a formula. */
const RESERVED = /^(?:[A-Z]{1,3}\d{1,7}|R\d*C\d*|TRUE|FALSE)$/i;
const GUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-5][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/i;
const VERSION = /^\d{1,5}(?:\.\d{1,5}){0,3}$/;
/** What every function's name starts with on the disk. */
const STORED_PREFIX = "_xldudf_";

/** Order of the children that have one. */
const ORDER: Readonly<Record<string, readonly string[]>> = {
  OfficeApp: [
    "Id",
    "AlternateId",
    "Version",
    "ProviderName",
    "DefaultLocale",
    "DisplayName",
    "Description",
    "IconUrl",
    "HighResolutionIconUrl",
    "SupportUrl",
    "AppDomains",
    "Hosts",
    "Requirements",
    "DefaultSettings",
    "Permissions",
    "VersionOverrides",
  ],
  VersionOverrides: ["Description", "Requirements", "Hosts", "Resources"],
  "Host/Workbook": ["Runtimes", "AllFormFactors", "DesktopFormFactor"],
  ExtensionPointCustomFunctions: ["Script", "Page", "Metadata", "Namespace"],
  DesktopFormFactor: ["GetStarted", "FunctionFile", "ExtensionPoint"],
  Group: ["Label", "Icon", "Control"],
  Control: ["Label", "Supertip", "Icon", "Action"],
  Resources: ["Images", "Urls", "ShortStrings", "LongStrings"],
};

/** Elements that have to be there, by their path. */
const NEEDED = [
  "Id",
  "Version",
  "ProviderName",
  "DefaultLocale",
  "DisplayName",
  "Description",
  "IconUrl",
  "HighResolutionIconUrl",
  "SupportUrl",
  "Hosts/Host",
  "Requirements/Sets/Set",
  "DefaultSettings/SourceLocation",
  "Permissions",
  "VersionOverrides/Hosts/Host/Runtimes/Runtime",
  "VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Script/SourceLocation",
  "VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Page/SourceLocation",
  "VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Metadata/SourceLocation",
  "VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Namespace",
  "VersionOverrides/Hosts/Host/DesktopFormFactor/FunctionFile",
  "VersionOverrides/Resources",
];

function parse(xml: string): Node {
  const top: Node = { name: "", attributes: {}, children: [], text: "" };
  const open = [top];
  let at = 0;
  for (let tag = nextTag(xml, 0); tag; tag = nextTag(xml, at)) {
    const parent = open.at(-1) as Node;
    parent.text += textOf(xml, at, tag.start);
    at = tag.end;
    if (tag.kind === "close") {
      if (parent.name !== tag.name) throw new Error(`</${tag.name}> closes <${parent.name}>`);
      open.pop();
      continue;
    }
    const node: Node = {
      name: tag.name,
      attributes: attributes(xml, tag),
      children: [],
      text: "",
    };
    parent.children.push(node);
    if (tag.kind === "open") open.push(node);
  }
  const root = top.children[0];
  if (!root || open.length > 1) throw new Error(`<${open.at(-1)?.name ?? ""}> is not closed`);
  return root;
}

function all(node: Node, visit: (node: Node) => void): void {
  visit(node);
  for (const child of node.children) all(child, visit);
}

function at(node: Node, path: string): Node[] {
  return path
    .split("/")
    .reduce<Node[]>(
      (nodes, name) => nodes.flatMap((each) => each.children.filter((one) => one.name === name)),
      [node]
    );
}

class Faults {
  readonly list: string[] = [];
  add(text: string): void {
    this.list.push(text);
  }
  check(isRight: boolean, text: string): void {
    if (!isRight) this.add(text);
  }
}

function checkOrder(root: Node, faults: Faults): void {
  all(root, (node) => {
    const type = node.attributes.type ?? "";
    const order = ORDER[node.name] ?? ORDER[`${node.name}/${type}`] ?? ORDER[node.name + type];
    if (!order) return;
    let last = -1;
    for (const child of node.children) {
      const place = order.indexOf(child.name);
      if (place < 0) faults.add(`${node.name} may not have ${child.name}`);
      else if (place < last) faults.add(`${child.name} stands too late in ${node.name}`);
      else last = place;
    }
  });
}

function checkTop(root: Node, faults: Faults): void {
  const value = (name: string): string => {
    const node = at(root, name)[0];
    return (node?.attributes.DefaultValue ?? node?.text ?? "").trim();
  };
  faults.check(GUID.test(value("Id")), `Id is no GUID: ${value("Id")}`);
  faults.check(VERSION.test(value("Version")), `Version is no version: ${value("Version")}`);
  const { description, short } = LONGEST;
  faults.check(value("DisplayName").length <= short, `DisplayName is over ${short} characters`);
  faults.check(value("ProviderName").length <= short, `ProviderName is over ${short} characters`);
  faults.check(
    value("Description").length <= description,
    `Description is over ${description} characters`
  );
  faults.check(
    value("Permissions") === "ReadWriteDocument",
    `Permissions must be ReadWriteDocument, the least that can write sheets: ${value("Permissions")}`
  );
  const sets = at(root, "Requirements/Sets/Set").map((set) => set.attributes);
  for (const [name, version] of [
    ["SharedRuntime", "1.1"],
    ["CustomFunctionsRuntime", "1.3"],
  ]) {
    faults.check(
      sets.some((set) => set.Name === name && set.MinVersion === version),
      `Requirements must ask for ${name} ${version}`
    );
  }
}

/** Resources by id; ids twice, ids too long and ids nobody has are faults. */
function checkResources(root: Node, faults: Faults): Map<string, string> {
  const resources = new Map<string, string>();
  const limits = { ShortStrings: LONGEST.short, LongStrings: LONGEST.long } as const;
  for (const list of at(root, "VersionOverrides/Resources")[0]?.children ?? []) {
    for (const { attributes: of } of list.children) {
      const { id = "", DefaultValue = "" } = of;
      if (resources.has(id)) faults.add(`the resource ${id} stands twice`);
      resources.set(id, DefaultValue);
      if (id.length > LONGEST.resid) {
        faults.add(`the resource id ${id} is over ${LONGEST.resid} characters`);
      }
      const limit = limits[list.name as keyof typeof limits];
      if (limit && DefaultValue.length > limit) faults.add(`${id} is over ${limit} characters`);
      if (DefaultValue === "") faults.add(`the resource ${id} is empty`);
    }
  }
  const used = new Set<string>();
  const ids = new Set<string>();
  all(root, (node) => {
    const { resid, id } = node.attributes;
    if (resid !== undefined) {
      used.add(resid);
      if (!resources.has(resid))
        faults.add(`${node.name} names the resource ${resid}: there is none`);
    }
    if (id !== undefined && ["Group", "Control"].includes(node.name)) {
      if (ids.has(id)) faults.add(`the id ${id} stands twice`);
      ids.add(id);
      if (id.length > LONGEST.id) faults.add(`the id ${id} is over ${LONGEST.id} characters`);
    }
  });
  for (const id of resources.keys())
    if (!used.has(id)) faults.add(`nobody uses the resource ${id}`);
  return resources;
}

/** One page for all: functions, buttons and pane run together only where all four name the same resource. */
function checkSharedRuntime(root: Node, faults: Faults): void {
  const host = at(root, "VersionOverrides/Hosts/Host")[0];
  if (!host) return;
  const resid = (path: string): string | undefined => at(host, path)[0]?.attributes.resid;
  const runtime = resid("Runtimes/Runtime");
  for (const path of [
    "AllFormFactors/ExtensionPoint/Page/SourceLocation",
    "DesktopFormFactor/FunctionFile",
    "DesktopFormFactor/ExtensionPoint/OfficeTab/Group/Control/Action/SourceLocation",
  ]) {
    faults.check(
      resid(path) === runtime,
      `${path} must name the same resource as Runtime (${runtime}); it names ${resid(path)}`
    );
  }
  const lifetime = at(host, "Runtimes/Runtime")[0]?.attributes.lifetime;
  faults.check(lifetime === "long", `Runtime must live long; it says ${lifetime}`);
}

function addressesOf(root: Node): string[] {
  const found: string[] = [];
  all(root, (node) => {
    const { DefaultValue } = node.attributes;
    if (
      DefaultValue !== undefined &&
      (/Url$|^SourceLocation$|^Image$/.test(node.name) || /:\/\//.test(DefaultValue))
    ) {
      found.push(DefaultValue);
    }
  });
  return found;
}

function checkAddresses(root: Node, folder: BuiltFolder, faults: Faults): void {
  for (const address of addressesOf(root)) {
    if (/[{}~]/.test(address)) faults.add(`an address was not filled in: ${address}`);
    else if (!address.startsWith("https://")) faults.add(`${address} is not https`);
    else if (!address.startsWith(`${folder.base}/`)) {
      faults.add(`${address} is not below ${folder.base}`);
    } else {
      const path = address.slice(folder.base.length + 1).replace(/[?#].*$/, "");
      faults.check(folder.has(path), `there is no file for ${address}`);
    }
  }
}

function checkIcons(
  root: Node,
  folder: BuiltFolder,
  resources: ReadonlyMap<string, string>,
  faults: Faults
): void {
  const wanted: [address: string, size: number][] = [];
  const value = (name: string): string => at(root, name)[0]?.attributes.DefaultValue ?? "";
  wanted.push([value("IconUrl"), 32], [value("HighResolutionIconUrl"), 64]);
  all(root, (node) => {
    if (node.name !== "Icon") return;
    const sizes = node.children.map((image) => Number(image.attributes.size));
    for (const size of [16, 32, 80]) {
      if (!sizes.includes(size)) faults.add(`an icon has no picture of ${size} pixels`);
    }
    node.children.forEach((image, index) => {
      wanted.push([resources.get(image.attributes.resid ?? "") ?? "", sizes[index] as number]);
    });
  });
  for (const [address, size] of wanted) {
    const found = folder.pictureSize(address.slice(folder.base.length + 1));
    if (!found) continue; // a file that is not there is said elsewhere
    faults.check(
      found[0] === size && found[1] === size,
      `${address} must be ${size} x ${size} pixels; it is ${found.join(" x ")}`
    );
  }
}

/** Name of a function on the disk: dots become underscores. */
export function storedName(namespace: string, id: string): string {
  return `${STORED_PREFIX}${namespace}_${id}`.replaceAll(".", "_").toUpperCase();
}

function checkFunctions(
  namespace: string,
  metadata: FunctionMetadata,
  known: readonly KnownFunction[],
  folder: BuiltFolder,
  faults: Faults
): void {
  faults.check(
    /^[A-Z][A-Z0-9]{2,}$/.test(namespace) && !RESERVED.test(namespace),
    `the namespace must be capitals and digits: ${namespace}`
  );
  const stored = new Map<string, string>();
  const byName = new Map(known.map((each) => [each.name, each]));
  for (const each of metadata.functions) {
    const { id, name } = each;
    faults.check(id === name, `${id} is shown as ${name}`);
    faults.check(/^[A-Z][A-Z0-9_]{2,127}$/.test(id), `${id} is no name for a function`);
    faults.check(!RESERVED.test(id), `${id} reads as something else in a formula`);
    const disk = storedName(namespace, id);
    const other = stored.get(disk);
    if (other !== undefined) faults.add(`${id} and ${other} are both ${disk} on the disk`);
    stored.set(disk, id);
    checkHelp(each, folder, faults);
    const function_ = byName.get(id);
    if (!function_) faults.add(`the metadata has ${id}; no function answers to it`);
    else checkArguments(each, function_, faults);
  }
  const ids = new Set(metadata.functions.map((each) => each.id));
  for (const { name } of known) if (!ids.has(name)) faults.add(`${name} is not in the metadata`);
}

function checkHelp(
  each: FunctionMetadata["functions"][number],
  folder: BuiltFolder,
  faults: Faults
): void {
  if (!each.description) faults.add(`${each.id} has no help text`);
  for (const parameter of each.parameters) {
    if (!parameter.description) faults.add(`${each.id}: ${parameter.name} has no help text`);
  }
  const help = each.helpUrl ?? "";
  const path = help.slice(folder.base.length + 1);
  faults.check(
    help.startsWith(`${folder.base}/`) && folder.has(path),
    `${each.id} has no help page: ${help}`
  );
}

function checkArguments(
  each: FunctionMetadata["functions"][number],
  known: KnownFunction,
  faults: Faults
): void {
  const { id, parameters } = each;
  let optional = false;
  for (const parameter of parameters) {
    if (optional && !parameter.optional) {
      faults.add(`${id}: ${parameter.name} is needed but follows one that may be left out`);
    }
    optional ||= parameter.optional === true;
  }
  const shape = (list: readonly { name: string; optional?: boolean; matrix?: boolean }[]): string =>
    list.map((one) => `${one.name}${one.optional ? "?" : ""}${one.matrix ? "[]" : ""}`).join(", ");
  const said = shape(
    parameters.map((one) => ({
      name: one.name,
      optional: one.optional === true,
      matrix: one.dimensionality === "matrix",
    }))
  );
  const taken = shape(known.parameters);
  if (said !== taken) faults.add(`${id} takes (${taken}); the metadata says (${said})`);
  const spills = each.result.dimensionality === "matrix";
  if (spills !== known.spills) faults.add(`${id}: the metadata is wrong about its answer's shape`);
}

/** What is wrong with a built manifest and what it names; nothing where all is well. */
export function manifestFaults(
  xml: string,
  metadata: FunctionMetadata,
  known: readonly KnownFunction[],
  folder: BuiltFolder
): string[] {
  const faults = new Faults();
  let root: Node;
  try {
    root = parse(xml);
  } catch (error) {
    return [`the manifest is not XML: ${(error as Error).message}`];
  }
  if (root.name !== "OfficeApp" || root.attributes.type !== "TaskPaneApp") {
    faults.add(`the manifest is a ${root.name} ${root.attributes.type}`);
  }
  for (const path of NEEDED) if (at(root, path).length === 0) faults.add(`${path} is missing`);
  checkOrder(root, faults);
  checkTop(root, faults);
  const resources = checkResources(root, faults);
  checkSharedRuntime(root, faults);
  checkAddresses(root, folder, faults);
  checkIcons(root, folder, resources, faults);
  const space = at(root, "VersionOverrides/Hosts/Host/AllFormFactors/ExtensionPoint/Namespace")[0];
  const namespace = resources.get(space?.attributes.resid ?? "") ?? "";
  checkFunctions(namespace, metadata, known, folder, faults);
  return faults.list;
}
