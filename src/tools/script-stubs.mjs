/** The functions of the script for web spreadsheets, with their help, as that spreadsheet reads it. */
function oneLine(text) {
  return text.replace(/\s+/g, " ").replaceAll("*/", "* /").trim();
}

/** The functions a spreadsheet sees; a name that ends in an underscore is hidden from it. */
export function stubs(functions, core) {
  return functions
    .map(({ name, description, parameters, returns }) => {
      const names = parameters.map((each) => each.name).join(", ");
      const given = parameters.at(-1)?.repeats ? "Array.from(arguments)" : `[${names}]`;
      const help = [
        oneLine(description),
        "",
        ...parameters.map(({ name: parameter, description: text, optional }) => {
          const shown = optional ? `[${parameter}]` : parameter;
          return `@param {any} ${shown} ${oneLine(text)}`;
        }),
        `@return {any} ${oneLine(returns)}`,
        "@customfunction",
      ];
      return [
        "/**",
        ...help.map((line) => ` * ${line}`.trimEnd()),
        " */",
        `function SHEATH_${name}(${names}) {`,
        `  return ${core}.call("${name}", ${given});`,
        "}",
      ].join("\n");
    })
    .join("\n\n");
}
