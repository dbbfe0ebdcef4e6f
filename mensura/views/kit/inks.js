const INKS = /*INKS*/{};
function inksOf() { return INKS.light; }
function whenInksChange() {}
