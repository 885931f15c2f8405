// Reads DXF files with two packages and prints what each saw, in the form of tests/sight.py, a line of JSON a file.
// Names of files come in on standard input, one a line: name, tab, text encoding.

const fs = require("fs");
const { Helper } = require("dxf");
const DxfParser = require("dxf-parser").default || require("dxf-parser");

const xy = (place) => [place.x, place.y];
const look = (e, linetype, colour) => ({ layer: e.layer, linetype: linetype || "", colour: colour ?? 256 });

// --- package `dxf`: attributes of R12 come without tags and flags ---

function dxfShape(e) {
  const common = { kind: e.type, ...look(e, e.lineTypeName, e.colorNumber) };
  switch (e.type) {
    case "LINE":
      return { ...common, start: xy(e.start), end: xy(e.end) };
    case "CIRCLE":
      return { ...common, centre: xy(e), radius: e.r };
    case "ARC":
      return { ...common, centre: xy(e), radius: e.r, from: e.startAngle, to: e.endAngle };
    case "ELLIPSE":
      return { ...common, centre: xy(e), major: [e.majorX, e.majorY], ratio: e.axisRatio, from: e.startAngle,
        to: e.endAngle };
    case "POLYLINE":
      return { ...common, closed: e.closed, knots: e.vertices.map((v) => [v.x, v.y, v.bulge || 0]) };
    case "TEXT":
      return { ...common, at: xy(e), height: e.textHeight, text: e.string };
    case "INSERT":
      return { ...common, name: e.block, at: xy(e) };
    case "ATTDEF":
    case "ATTRIB":
      return { ...common, at: xy(e.text), height: e.text.textHeight, text: e.text.string, ...dxfNames(e) };
    default:
      throw new Error(`package dxf gives ${e.type}`);
  }
}

function dxfNames(e) {
  if (e.tag === undefined) return {};
  const names = { tag: e.tag, invisible: Boolean(e.attributeFlags & 1), constant: Boolean(e.attributeFlags & 2) };
  return e.type === "ATTDEF" ? { ...names, prompt: e.prompt } : names;
}

function byDxf(text) {
  const { header, tables, entities, blocks } = new Helper(text).parsed;
  return {
    reader: "dxf",
    header: { units: header.insUnits, measurement: header.measurement, low: xy(header.extMin), high: xy(header.extMax) },
    layers: Object.values(tables.layers).map((l) => ({ name: l.name, colour: l.colorNumber, linetype: l.lineTypeName })),
    linetypes: Object.values(tables.ltypes).map((t) => ({ name: t.name, pattern: (t.pattern || []).map((p) => p.length) })),
    entities: entities.map(dxfShape),
    blocks: blocks.filter((b) => !/^[*$]/.test(b.name))
      .map((b) => ({ name: b.name, base: xy(b), entities: b.entities.map(dxfShape) })),
  };
}

// --- package `dxf-parser`: it passes over ATTRIB ---

function parserShape(e) {
  const common = { kind: e.type, ...look(e, e.lineType, e.colorIndex) };
  switch (e.type) {
    case "LINE":
      return { ...common, start: xy(e.vertices[0]), end: xy(e.vertices[1]) };
    case "CIRCLE":
      return { ...common, centre: xy(e.center), radius: e.radius };
    case "ARC":
      return { ...common, centre: xy(e.center), radius: e.radius, from: e.startAngle, to: e.endAngle };
    case "ELLIPSE":
      return { ...common, centre: xy(e.center), major: xy(e.majorAxisEndPoint), ratio: e.axisRatio, from: e.startAngle,
        to: e.endAngle };
    case "POLYLINE":
      return { ...common, closed: e.shape, knots: e.vertices.map((v) => [v.x, v.y, v.bulge || 0]) };
    case "TEXT":
      return { ...common, at: xy(e.startPoint), height: e.textHeight, text: e.text };
    case "INSERT":
      return { ...common, name: e.name, at: xy(e.position) };
    case "ATTDEF":
      return { ...common, at: xy(e.startPoint), height: e.textHeight, text: e.text, tag: e.tag, prompt: e.prompt,
        invisible: e.invisible, constant: e.constant };
    default:
      throw new Error(`package dxf-parser gives ${e.type}`);
  }
}

function byParser(text) {
  const { header, tables, entities, blocks } = new DxfParser().parseSync(text);
  return {
    reader: "dxf-parser",
    lacks: ["ATTRIB"],
    header: { version: header.$ACADVER, units: header.$INSUNITS, measurement: header.$MEASUREMENT,
      base: xy(header.$INSBASE), low: xy(header.$EXTMIN), high: xy(header.$EXTMAX) },
    layers: Object.values(tables.layer.layers).map((l) => ({ name: l.name, colour: l.colorIndex })),
    linetypes: Object.values(tables.lineType.lineTypes).map((t) => ({ name: t.name, pattern: t.pattern || [] })),
    entities: entities.map(parserShape),
    blocks: Object.values(blocks).filter((b) => !/^[*$]/.test(b.name))
      .map((b) => ({ name: b.name, base: xy(b.position), entities: (b.entities || []).map(parserShape) })),
  };
}

for (const line of fs.readFileSync(0, "utf8").split("\n").filter(Boolean)) {
  const [name, encoding] = line.split("\t");
  const text = fs.readFileSync(name).toString(encoding);
  console.log(JSON.stringify([byDxf(text), byParser(text)]));
}
