/** Every style sheet of the page, the grid's first. */
import "@univerjs/design/lib/index.css";
import "@univerjs/ui/lib/index.css";
import "@univerjs/docs-ui/lib/index.css";
import "@univerjs/sheets-ui/lib/index.css";
import "@univerjs/sheets-formula-ui/lib/index.css";
import "@univerjs/sheets-numfmt-ui/lib/index.css";
import "@univerjs/sheets-data-validation-ui/lib/index.css";
import "../../pane/colors.css";
import "./page.css";
import "../../pane/pane.css";
