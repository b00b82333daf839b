import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { root } from "./import-graph";

/** One way in from outside that asks for a permission, as the code says it. */
export interface Edge {
  readonly kind: "page" | "route" | "action";
  readonly file: string;
  /** The address, with `[name]` for its variable parts; an action's is that of its folder. */
  readonly address: string;
  /** GET or POST of a route; the exported name of an action. */
  readonly name: string;
  readonly permission: string;
}

const wrappers: Readonly<Record<string, Edge["kind"]>> = { requirePage: "page", route: "route", action: "action" };

function addressOf(file: string): string {
  const parts = file.split("/").slice(1, -1);
  return `/${parts.filter((part) => !part.startsWith("(") && !part.startsWith("_")).join("/")}`;
}

/** Texts that the file gives names to, so that a permission may be named once for several actions. */
function namedTexts(source: ts.SourceFile): Map<string, string> {
  const named = new Map<string, string>();
  for (const statement of source.statements) {
    if (!ts.isVariableStatement(statement)) continue;
    for (const { name, initializer } of statement.declarationList.declarations) {
      const value = initializer && ts.isAsExpression(initializer) ? initializer.expression : initializer;
      if (value && ts.isStringLiteral(value) && ts.isIdentifier(name)) named.set(name.text, value.text);
    }
  }
  return named;
}

function permissionOf(call: ts.CallExpression, kind: Edge["kind"], named: ReadonlyMap<string, string>): string | null {
  const text = (node: ts.Node | undefined): string | null => {
    if (node && ts.isStringLiteral(node)) return node.text;
    return node && ts.isIdentifier(node) ? (named.get(node.text) ?? null) : null;
  };
  if (kind === "page") return text(call.arguments[0]);
  if (kind === "action") return text(call.arguments[1]);
  const rules = call.arguments[0];
  if (!rules || !ts.isObjectLiteralExpression(rules)) return null;
  for (const property of rules.properties) {
    const isPermission = property.name !== undefined && ts.isIdentifier(property.name) && property.name.text === "permission";
    if (isPermission && ts.isPropertyAssignment(property)) return text(property.initializer);
    if (isPermission && ts.isShorthandPropertyAssignment(property)) return named.get("permission") ?? null;
  }
  return null;
}

/** The name under which a call's result is exported; empty for a page. */
function exportedName(call: ts.CallExpression): string {
  const declaration = call.parent;
  return ts.isVariableDeclaration(declaration) && ts.isIdentifier(declaration.name) ? declaration.name.text : "";
}

function edgesOf(file: string): Edge[] {
  const source = ts.createSourceFile(file, readFileSync(join(root, file), "utf8"), ts.ScriptTarget.Latest, true, ts.ScriptKind.TSX);
  const named = namedTexts(source);
  const edges: Edge[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isCallExpression(node) && ts.isIdentifier(node.expression)) {
      const kind = wrappers[node.expression.text];
      if (kind) {
        const permission = permissionOf(node, kind, named);
        if (permission === null)
          throw new Error(`${file}: the permission of ${node.expression.text}(...) is not a plain text; name it in the file.`);
        edges.push({ kind, file, address: addressOf(file), name: exportedName(node), permission });
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return edges;
}

/** Every page, route and action behind a permission, read from the code of the web edge. */
export function listEdges(): Edge[] {
  return readdirSync(join(root, "app"), { recursive: true, encoding: "utf8" })
    .map((path) => `app/${path}`)
    .filter((path) => /\.tsx?$/.test(path) && !path.startsWith("app/_"))
    .sort()
    .flatMap(edgesOf);
}
