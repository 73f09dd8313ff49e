// What every page loads. Each behaviour is a module of its own that attaches
// itself to data- attributes and is imported here; a page works without any.
import { arrivals } from "./arrive";
import { carries } from "./carry";
import { designs } from "./design";
import { drafts } from "./draft";
import { enterGoesOn } from "./enter";
import { focusWrong } from "./focus";
import { photos } from "./photos";
import { rows } from "./rows";
import { sums } from "./sum";

rows(document);
drafts(document);
carries(document);
designs(document);
enterGoesOn(document);
photos(document);
sums(document);
focusWrong(document);
arrivals(document);
