"""One bibliography with stable keys; docstrings, workbooks and tests cite it in brackets.

Each entry says who, when, what and where, and how the work is known to us: what of it was read, or
that it is from memory. A part that we do not know is said to be unknown.
"""

from __future__ import annotations

from dataclasses import dataclass

UNKNOWN = "not known to us"


@dataclass(frozen=True)
class Source:
    """One published work.

    author: who wrote or edited it; year: of publication, with a word if it needs one, or "year"
    and UNKNOWN; title: in its own words; place: journal, series or publisher; known: what of it was
    read and what it is cited for, or that it is from memory.
    """

    author: str
    year: str
    title: str
    place: str
    known: str

    def __str__(self) -> str:
        parts = (f"{self.author}, {self.year}: {self.title}", self.place, self.known)
        return " ".join(part if part.endswith(".") else f"{part}." for part in parts)


# fmt: off
SOURCES: dict[str, Source] = {
    "ArneyOpalach2017": Source(
        "J. D. Arney, D. Opalach", "2017 (year of the work that it reports)",
        "Field Inventory Precision – Review and Recommendations",
        "Note of the Forest Biometrics Research Institute",
        "Opening read: readings of diameter tapes tend to be high, from moss, branches and loose "
        "debris, and were truncated to 0.1 inch of diameter",
    ),
    "AS1964": Source(
        "M. Abramowitz, I. A. Stegun (eds.)", "1964",
        "Handbook of Mathematical Functions with Formulas, Graphs, and Mathematical Tables",
        "National Bureau of Standards, Applied Mathematics Series 55, chapter 17",
        "Values of table 17.1 read as carried in the tests of an open library",
    ),
    "AshHelman1990": Source(
        "J. Ash, C. Helman", "1990",
        "Floristics and vegetation biomass of a forest catchment, Kioloa, south coastal N.S.W.",
        "Cunninghamia 2(2), pp. 167-182",
        "As named by the dataset's own help text; issue from memory: bark and wood of trees",
    ),
    "Barbier1860": Source(
        "E. Barbier", "1860",
        "Note sur le problème de l'aiguille et le jeu du joint couvert",
        "Journal de mathématiques pures et appliquées, series 2, vol. 5, pp. 273-286",
        "Not read; named so in lists of references: a curve of constant width w has the girth πw",
    ),
    "BatesEtAl2015": Source(
        "D. Bates, M. Mächler, B. Bolker, S. Walker", "2015",
        "Fitting Linear Mixed-Effects Models Using lme4",
        "Journal of Statistical Software 67(1) (from memory), and the documents of the library",
        "Fit of the dyestuff read in the library's documents; fits of penicillin and of pastes "
        "from memory; every figure was worked out again",
    ),
    "BCFT": Source(
        "Empire Forestry Association (from memory)", "1953 (from memory)",
        "British Commonwealth Forest Terminology, part I",
        "London (from memory)",
        "Entry on breast height read, as modified in a glossary collection",
    ),
    "Berger2010": Source(
        "M. Berger", "2010",
        "Geometry Revealed: A Jacob's Ladder to Modern Higher Geometry",
        "Springer, pp. 295-296",
        "Not read; named so in an encyclopedia: the isoperimetric inequality",
    ),
    "BigTreesGermany": Source(
        "A list of Germany's strongest trees, unsigned", "year not known to us",
        "Messmethode (how its trees are measured)",
        "On its web pages, in two texts of different age",
        "Both read but for their ends: highest contact with the soil, square to the axis; in "
        "the newer one the middle of a slope, the waist below 1.30 m, the strongest stem of a "
        "low fork; in the older one uphill, along a leaning stem, over flutes",
    ),
    "BlandAltman1986": Source(
        "J. M. Bland, D. G. Altman", "1986",
        "Statistical methods for assessing agreement between two methods of clinical measurement",
        "The Lancet, i, pp. 307-310",
        "Table 1 (peak flow of 17 people by two meters, twice each), the mean difference, its "
        "spread and the limits read; standard errors and intervals from memory, worked out again",
    ),
    "BlandAltman1999": Source(
        "J. M. Bland, D. G. Altman", "1999",
        "Measuring agreement in method comparison studies",
        "Statistical Methods in Medical Research 8, pp. 135-160",
        "From memory: repeated readings by both methods, and the spread within people of the data "
        "of [BlandAltman1986]",
    ),
    "BlandAltman2007": Source(
        "J. M. Bland, D. G. Altman", "2007",
        "Agreement between methods of measurement with multiple observations per individual",
        "Journal of Biopharmaceutical Statistics 17, pp. 571-582",
        "From memory: variances between and within people from the analysis of variance of the "
        "differences",
    ),
    "Blaschke1915": Source(
        "W. Blaschke", "1915",
        "Konvexe Bereiche gegebener konstanter Breite und kleinsten Inhalts",
        "Mathematische Annalen 76, pp. 504-513",
        "Title, journal and pages from memory, year from encyclopedia pages; theorem read in E. M. "
        "Harrell, arXiv math/0009137, who names it after both: of all shapes of one constant width "
        "the Reuleaux triangle has the least area",
    ),
    "BrackWoodBA": Source(
        "C. L. Brack, G. B. Wood", "year not known to us",
        "Stand basal area",
        "Australian National University, on its web pages on forest measurement",
        "Read: the constant, the quadratic mean diameter, and that stands have 10 to 60 m² a "
        "hectare",
    ),
    "Brassel2001": Source(
        "P. Brassel, H. Lischke (eds.) (from memory)", "2001 (from memory)",
        "Swiss National Forest Inventory: Methods and Models of the Second Assessment (title "
        "from memory)",
        "Swiss Federal Research Institute WSL",
        "Opening of section 2.3.3.6 read in a reprint: at the first inventory the place of the "
        "diameter was marked in the bark, and the wounds' answer was counted at the second",
    ),
    "BRE-LA": Source(
        "Building Research Establishment", f"year {UNKNOWN}",
        "Cross-testing of aggregates: Los Angeles test, data of 28 laboratories, and precision",
        "On its web pages, tables 1 and 3",
        "Both tables read; the page runs its columns together, and that all printed figures come "
        "out confirms how they were parted",
    ),
    "BS5837": Source(
        "British Standards Institution", "2012",
        "BS 5837: Trees in relation to design, demolition and construction – Recommendations "
        "(title from memory)",
        "BS 5837, London",
        "Not read; quoted in survey reports: 1.5 m above the ground, and for two to five stems "
        "the root of the sum of the squares of the diameters",
    ),
    "Burgan1971": Source(
        "R. E. Burgan", "1971",
        "Variations in diameter measurements of robusta eucalyptus due to swelling and shrinking "
        "of bark",
        "USDA Forest Service, Pacific Southwest Forest and Range Experiment Station, Research Note "
        "PSW-244",
        "Abstract and opening read: six trees of one thick-barked eucalypt",
    ),
    "Butt2013": Source(
        "N. Butt, E. M. Slade, J. Thompson, Y. Malhi, T. Riutta", "2013",
        "Quantifying the sampling error in tree census measurements by volunteers and its effect "
        "on carbon stock estimates",
        "Ecological Applications 23(4), pp. 936-943",
        "Abstract read: differences of diameters, from repeated readings of a diameter tape on the "
        "same stem",
    ),
    "Cauchy1841": Source(
        "A. L. Cauchy", "1841",
        "Note sur divers théorèmes relatifs à la rectification des courbes, et à la quadrature des "
        "surfaces",
        "Comptes rendus de l'Académie des sciences 13, pp. 1060-1063",
        "From memory; the theorem itself was read in his later memoir, Mémoires de l'Académie des "
        "sciences 22: the mean width of a convex curve is its girth divided by π",
    ),
    "CFMP1999": Source(
        "Research Working Group 2; G. B. Wood, B. J. Turner, C. L. Brack (eds.)", "1999",
        "Code of Forest Mensuration Practice: A guide to good tree measurement practice in "
        "Australia and New Zealand",
        "Australian National University, on its web pages, ISBN 0-7315-3310-0",
        "Sections 2.2.1 (diameters of logs), the opening of 2.1.1 (breast height, the instruments) "
        "and of 3.3 (basal area, its constant, the quadratic mean diameter) read",
    ),
    "ClarkEtAl2000": Source(
        "N. A. Clark, R. H. Wynne, D. L. Schmoldt", "2000",
        "A Review of Past Research on Dendrometers",
        "Forest Science 46(4), pp. 570-576",
        "Opening read: tapes take the girth of a closed convex region, calipers the distance of "
        "parallel tangents",
    ),
    "Cochran1977": Source(
        "W. G. Cochran", "1977",
        "Sampling Techniques, third edition", "Wiley, chapter 6",
        "From memory: the ratio estimator and its standard error",
    ),
    "DaviesGoldsmith1972": Source(
        "O. L. Davies, P. L. Goldsmith (eds.)", "1972",
        "Statistical Methods in Research and Production, 4th edition",
        "Oliver and Boyd",
        "As named by the datasets' own help texts: source of dyestuff, penicillin and pastes",
    ),
    "DevineHarrington2011": Source(
        "W. D. Devine, C. A. Harrington", "2011",
        "Factors affecting diurnal stem contraction in young Douglas-fir",
        "Agricultural and Forest Meteorology 151, pp. 414-419",
        "Abstract read: trees of one site, seven and eight years planted",
    ),
    "DeYoung2016": Source(
        "J. DeYoung (from memory)", "2016 (from memory)",
        "Forest Measurements: An Applied Approach",
        "Open textbook of the colleges of Oregon, chapters 3.2 and 3.5",
        "Read: breast height and figures 3.2 to 3.7, which are from or after a manual of the US "
        "Forest Service of 1990, and the answers of chapter 3.5",
    ),
    "Draper1998": Source(
        "N. R. Draper, H. Smith", "1998",
        "Applied Regression Analysis, 3rd edition",
        "Wiley, exercise 24.N",
        "As named by the dataset's own help text: source of the orange trees",
    ),
    "EDI1559": Source(
        "A long-term research site in the USA", "year not known to us",
        "Trees on permanent plots (title in our words)",
        "Environmental Data Initiative, package edi.1559.5",
        "Description of the methods read: a painted line, generally at 1.35 m",
    ),
    "EEC1968": Source(
        "Council of the European Communities", "1968",
        "Directive 68/89/EEC on the classification of wood in the rough",
        "Official Journal L 32, 6 February 1968, pp. 12-15",
        "Rule on abnormal places read in an English text that does not name its number; that it "
        "is this directive is from memory",
    ),
    "Eichordnung1911": Source(
        "German Reich", "1911",
        "Eichordnung für das Deutsche Reich",
        "Reichs-Gesetzblatt 1911, sections 21 and 23 (tree calipers)",
        "Known to us from machine-read scans",
    ),
    "FAONFI": Source(
        "Food and Agriculture Organization of the United Nations (from memory)",
        "2004 (from memory)",
        "National Forest Inventory Field Manual, annex on tree diameters",
        "Rome; Forest Resources Assessment Working Paper 94/E (from memory)",
        "Its annex not read; its rules read in an unsigned Spanish copy and in an encyclopedia "
        "in French and German; that they are this manual's is from memory",
    ),
    "FIADB": Source(
        "US Forest Service, Forest Inventory and Analysis", "year not known to us",
        "Database description and user's manual (title in our words), section 3.1.18",
        "US Department of Agriculture",
        "Section read as copied: breast height usually 4.5 feet on the uphill side; stems of "
        "woodland species at the root collar as the root of the sum of their squares",
    ),
    "FIAGuide": Source(
        "US Forest Service, Forest Inventory and Analysis", "year not known to us",
        "Field guide, chapter 5.0: tree and sapling data",
        "In copies on the web",
        "Opening of chapter 5.0 read: extreme caution near dead trees, unsafe ones estimated; "
        "the sentences on the forest floor and on missing bark were read where they are quoted "
        "without a name, and that they are this guide's is from memory",
    ),
    "FinnishGlossary": Source(
        "Finnish Forest Association (from memory)", "year not known to us",
        "Glossary of forestry",
        "On its web pages, forest.fi",
        "Entry on breast height read for an earlier list: 1.3 m",
    ),
    "ForestGEO": Source(
        "Smithsonian Institution, Forest Global Earth Observatory", "year not known to us",
        "Forest Census Protocols",
        "On its web pages",
        "Read: diameters at 1.3 m or above stem irregularities, for which it names R. Condit, "
        "1998, which we did not read",
    ),
    "ForestryNepal2008": Source(
        "Forestry Nepal, unsigned", "2008 (of the page)",
        "Standard rules governing breast height measurement",
        "On its web pages, rules 1 to 6",
        "Read",
    ),
    "ForSci1975": Source(
        "R. L. Williamson (name from memory)", "1975",
        "Out-of-Roundness in Douglas-fir Stems",
        "Forest Science 21(4), pp. 365-370",
        "First page read in a scan: what is called out-of-roundness",
    ),
    "FrenchPlots": Source(
        "A manual in French, author not known to us", "year not known to us",
        "Permanent plots: increment of diameters (title in our words)",
        "A page of it in a scan on the web",
        "That page read: a painted line or a nail 30 cm above; about 1 m above the end of "
        "buttresses, and two places 1.50 m apart",
    ),
    "GermanBreastHeight": Source(
        "Encyclopedia in German, unsigned", "year not known to us",
        "Brusthöhendurchmesser",
        "On the web",
        "Read: 130 cm in Central Europe, uphill on a slope, the mean from above and below where "
        "something is in the way; it names [KramerAkca1995]",
    ),
    "GermanNFI": Source(
        "Federal Ministry of Food and Agriculture, Germany", "year not known to us",
        "Terminology of the National Forest Inventory",
        "On its web pages",
        "Entry DBH read: at a height of 1.3 metres",
    ),
    "Goulding1979": Source(
        "C. J. Goulding", "1979",
        "Cubic spline curves and calculation of volume of sectionally measured trees",
        "New Zealand Journal of Forestry Science 9(1), pp. 89-99",
        "Abstract and introduction read: it names Huber's, Smalian's and Newton's rules, compares "
        "them by sections, and sends to a textbook for them",
    ),
    "Grubbs1969": Source(
        "F. E. Grubbs", "1969",
        "Procedures for Detecting Outlying Observations in Samples",
        "Technometrics 11(1), pp. 1-21",
        "Not read; critical values for one outlier read in a table made after it",
    ),
    "GUM1995": Source(
        "Joint Committee for Guides in Metrology", "2008 (first published 1995)",
        "Evaluation of measurement data – Guide to the expression of uncertainty in measurement",
        "JCGM 100:2008",
        "Clause 5.1.2 with its note, example H.2 and example H.3 (a thermometer's line) as quoted "
        "in documents of an open library; example H.1 (expansion of steel) as coded in an open "
        "example; clause F.2.2.1 (half a step, evenly spread) as quoted in the manual of an open "
        "library; clauses 4.2.3, 4.3.7, 5.2.2 and G.4 from memory",
    ),
    "Henderson1953": Source(
        "C. R. Henderson", "1953",
        "Estimation of variance and covariance components",
        "Biometrics 9, pp. 226-252",
        "From memory: the third of its methods, constants fitted one after the other",
    ),
    "Herries2010": Source(
        "D. Herries and others", "2010",
        "Carbon measurement manual for planted forests (title in our words)",
        "Ministry for the Environment, New Zealand",
        "Not read; figure 20 and its rule quoted on a web page of foresters: highest soil at "
        "the stem, needles and leaves removed",
    ),
    "HolzUndWald": Source(
        "Author not known to us", "year not known to us",
        "Holz und Wald",
        "In a scan on the web, p. 51",
        "Page read: whoever measures wears a mark on the chest, since tall and small people "
        "measure differently",
    ),
    "Hurwitz1902": Source(
        "A. Hurwitz", "1902",
        "Sur quelques applications géométriques des séries de Fourier",
        "Annales scientifiques de l'École normale supérieure, series 3, vol. 19, pp. 357-408 "
        "(volume and pages from memory)",
        "A review of it was read; the term used here is from memory and proved on the page",
    ),
    "Husch2003": Source(
        "B. Husch, T. W. Beers, J. A. Kershaw", "2003",
        "Forest Mensuration, 4th edition",
        "Wiley",
        "Contents read; that it has Huber's, Smalian's and Newton's rules is from memory, and "
        "[Goulding1979] sends to its edition of 1972 for them",
    ),
    "IdahoScaling": Source(
        "Idaho Board of Scaling Practices", "year not known to us",
        "How to determine the scale of a log",
        "On its web pages",
        "Read for an earlier review: inside bark, through the true centre, narrowest way first, "
        "the other at right angles, bumps and broken ends left out",
    ),
    "ISO5725": Source(
        "International Organization for Standardization", "1994",
        "Accuracy (trueness and precision) of measurement methods and results",
        "ISO 5725-2:1994, and parts 3 and 6",
        "Table 6 (Mandel's h and k) read as reprinted; method, table 5 (Grubbs) and part 3 from "
        "memory; they give back the published figures of [BRE-LA]",
    ),
    "JCGM101": Source(
        "Joint Committee for Guides in Metrology", "2008",
        "Evaluation of measurement data – Supplement 1 to the Guide to the expression of "
        "uncertainty in measurement – Propagation of distributions using a Monte Carlo method",
        "JCGM 101:2008",
        "Clauses 6.4, 7.7 and 8 and the examples of clause 9 from memory; every figure of the "
        "examples that is used here was worked out again",
    ),
    "Kangueja2009": Source(
        "F. Kangueja Bukasa", "2009",
        "Analyse de la diversité des ligneux arborescents des principaux types forestiers du "
        "nord-est de la réserve de biosphère de Luki",
        "Thesis, University of Kisangani, section 2.1.1.5",
        "Section read; it follows Picard and others (2008) and Alder and Synnott (1992), which "
        "we did not read",
    ),
    "Kleinn2007": Source(
        "C. Kleinn", "2007",
        "Lecture Notes for the Teaching Module Forest Inventory",
        "University of Göttingen",
        "Its pages on slope correction, on tapes and calipers and on angle counts read in the "
        "course's own wiki or in a reprint of it; the opening of that on breast height, after a "
        "German field manual of 2007, in French and German reprints",
    ),
    "KlimafitterWald": Source(
        "Austrian advice to owners of forest, unsigned", "year not known to us",
        "Wie ermittle ich Durchmesser und Höhe eines Baumes?",
        "On its web pages",
        "Read: 1.3 m on the upper side of the slope",
    ),
    "KramerAkca1995": Source(
        "H. Kramer, A. Akça", "1995",
        "Leitfaden zur Waldmesslehre, 3rd edition",
        "Sauerländer, Frankfurt am Main",
        "Not read; named for its rules by [GermanBreastHeight]",
    ),
    "Lebesgue1914": Source(
        "H. Lebesgue", "1914",
        "Sur le problème des isopérimètres et sur les domaines de largeur constante",
        "Bulletin de la Société mathématique de France, Comptes rendus des séances, pp. 72-76",
        "Title, journal and pages from memory, year from encyclopedia pages, which say that the "
        "two published apart; theorem as under [Blaschke1915]",
    ),
    "Luoma2017": Source(
        "V. Luoma, N. Saarinen, M. A. Wulder, J. C. White, M. Vastaranta, M. Holopainen, J. Hyyppä",
        "2017",
        "Assessing Precision in Conventional Field Measurements of Individual Tree Attributes",
        "Forests 8(2), article 38",
        "Abstract and introduction read: 319 trees, each measured by four trained people on their "
        "own, diameters with calipers",
    ),
    "Marthews2012": Source(
        "T. Marthews and others (from memory)", "2012",
        "RAINFOR-GEM Intensive Plots Manual, version 2.2",
        "University of Oxford, section 1.3",
        "Opening of section 1.3 read: a pole of 1.6 m with a notch at 1.3 m; no painting in or "
        "after heavy rain",
    ),
    "Matern1956": Source(
        "B. Matérn", "1956",
        "On the Geometry of the Cross-Section of a Stem",
        "Meddelanden från Statens skogsforskningsinstitut 46(11)",
        "Contents and first lines read; no figure is taken from it",
    ),
    "MenloPark": Source(
        "City of Menlo Park", "year not known to us",
        "How do I measure a tree that has multiple trunks?",
        "On its web pages",
        "Read: the diameters are added",
    ),
    "Metcalf2009": Source(
        "C. J. E. Metcalf, J. S. Clark, D. A. Clark", "2009",
        "Tree growth inference and prediction when the point of measurement changes: modelling "
        "around buttresses in tropical forests (title from memory)",
        "Journal of Tropical Ecology 25, pp. 1-12",
        "Abstract read: above buttresses diameters fall by up to 10 per cent a metre",
    ),
    "Meyer1953": Source(
        "H. A. Meyer", "1953",
        "Forest Mensuration",
        "Penns Valley Publishers",
        "As named by the dataset's own help text: source of the 31 black cherry trees",
    ),
    "MinnesotaBigTrees": Source(
        "Minnesota Department of Natural Resources", "year not known to us",
        "Hard-to-measure trees",
        "On its web pages, rules 1 to 4",
        "Read: rules of a list of big trees",
    ),
    "MonumentalOaks": Source(
        "A list of Germany's monumental oaks, unsigned", "year not known to us",
        "Messmethode (how its trees are measured)",
        "On its web pages",
        "Read: uphill in the past; since a meeting of 2011 the point of the seed, half-way; 1.5 "
        "m in some countries",
    ),
    "Nature40Survey": Source(
        "Nature 4.0, a research project in a German forest", "2020 (of the survey)",
        "Tree attributes in the survey campaign 2020",
        "On its web pages",
        "Read: big mosses and dirt off, the tape square to the stem's axis, another height "
        "written down",
    ),
    "NBS1959": Source(
        "National Bureau of Standards", "1959",
        "Refinement of values for the yard and the pound",
        "Federal Register",
        "From memory: the international yard of 0.9144 m",
    ),
    "NIST-StRD": Source(
        "National Institute of Standards and Technology", f"year {UNKNOWN}",
        "Statistical Reference Datasets: linear regression (Norris, calibration of ozone monitors) "
        "and analysis of variance (SiRstv, SmLs01, SmLs07)",
        "National Institute of Standards and Technology, on its web pages",
        "The files with data and certified values read as they ship with SciPy's tests",
    ),
    "NMS2009": Source(
        "UK National Measurement System", "2009",
        "Critical values of Cochran's test",
        "On its web pages (title in our words)",
        "Forty-four entries at 5 per cent read",
    ),
    "Noelke2015": Source(
        "N. Nölke and others", "2015",
        "On the geometry and allometry of big-buttressed trees – a challenge for forest "
        "monitoring: new insights from 3D-modeling with terrestrial laser scanning",
        "iForest 8(5), pp. 574-581",
        "Abstract read: the diameter above the buttress, where the cylindrical bole begins",
    ),
    "OEIS-A060708": Source(
        "OEIS Foundation", f"year {UNKNOWN}",
        "Sequence A060708: area of the Reuleaux triangle of width 1",
        "The On-Line Encyclopedia of Integer Sequences",
        "Digits read; it points to S. R. Finch, Mathematical Constants, section 8.10",
    ),
    "OldTrees2007": Source(
        "A British record of old trees, unsigned", "2007 (of the print)",
        "Measuring the girth of a tree",
        "Leaflet, on the web",
        "First page read: 1.5 m, with its reasons, and that the tape is always level",
    ),
    "Otsu1979": Source(
        "N. Otsu", "1979",
        "A Threshold Selection Method from Gray-Level Histograms",
        "IEEE Transactions on Systems, Man, and Cybernetics 9(1), pp. 62-66",
        "From memory: the level that parts a picture is that with the greatest variance between "
        "the two kinds of dots",
    ),
    "Phillips2016": Source(
        "S. D. Phillips, C. M. Shakarji, A. Balsamo, M. Krystek, E. Morse", "2016",
        "The 2016 Revision of ISO 1 – Standard Reference Temperature for the Specification of "
        "Geometrical and Dimensional Properties",
        "Journal of Research of the National Institute of Standards and Technology 121, "
        "pp. 498-504",
        "Abstract read: lengths are said for 20 °C",
    ),
    "PinheiroBates2000": Source(
        "J. C. Pinheiro, D. M. Bates", "2000",
        "Mixed-Effects Models in S and S-PLUS",
        "Springer",
        "From memory: fit of the travel times in six rails, section 1.1; worked out again from the "
        "published data",
    ),
    "Portland": Source(
        "City of Portland, Oregon", "year not known to us",
        "How to Measure a Tree, figures 80-4 to 80-7",
        "On its web pages, from its tree code",
        "Read: half-way on slopes and leaning stems, below a low fork the smallest "
        "circumference, several stems as the largest and half of each other",
    ),
    "Pulkkinen2012": Source(
        "M. Pulkkinen", "2012",
        "On non-circularity of tree stem cross-sections: effect of diameter selection on "
        "cross-section area estimation, Bitterlich sampling and stem volume estimation in Scots "
        "pine",
        "Silva Fennica 46(5B), doi 10.14214/sf.924",
        "Abstract read: 709 discs of 81 stems; it says itself that its finding cannot be "
        "generalised",
    ),
    "RAINFOR2021": Source(
        "O. Phillips, T. Baker, T. Feldpausch, R. Brienen", "2021",
        "RAINFOR Field Manual for Plot Establishment and Remeasurement, edition 2021.1",
        "Amazon Forest Inventory Network",
        "Not read but for its title page and introduction; its rules as summarised by others in "
        "a catalogue of data",
    ),
    "Rodriguez2015": Source(
        "F. Rodríguez, R. Blanco, A. Aunós", "2015",
        "Diameter versus girth: which variable provides the best estimate of the cross-sectional "
        "area?",
        f"Forest Systems 24(3), doi 10.5424/fs/2015243-05945, article number {UNKNOWN}",
        "Abstract read: 5408 sections of 48 trees of one poplar clone in one plantation, from "
        "images; one range for three practices, and which had which end of it is not said",
    ),
    "Rowlett": Source(
        "R. Rowlett", f"year {UNKNOWN}",
        "How Many? A Dictionary of Units of Measurement",
        "University of North Carolina at Chapel Hill, on its web pages",
        "Entry read: a hoppus foot is 1.273 cubic feet or 0.036 054 m³",
    ),
    "SchaefferNovelli1986": Source(
        "Y. Schaeffer-Novelli, G. Cintrón", "1986",
        "Guide to the study of mangroves (title in our words)",
        "São Paulo (from memory)",
        "Not read; quoted in a later paper that follows it: above the highest root where roots "
        "pass 1.30 m",
    ),
    "SEOSAW": Source(
        "Socio-Ecological Observatory for Southern African Woodlands (name from memory)",
        "year not known to us",
        "SEOSAW Field Manual, version 3",
        "On its web pages",
        "Not read; its rules as summarised by others in a catalogue of data",
    ),
    "Sheil2003": Source(
        "D. Sheil", "2003",
        "Growth assessment in tropical trees: large daily diameter fluctuations and their "
        "concealment by dendrometer bands",
        "Canadian Journal of Forest Research 33(10), pp. 2027-2035 (from memory)",
        "Abstract read: eight trees, about 1 mm of girth within a day",
    ),
    "SREF": Source(
        "Southern Regional Extension Forestry", f"year {UNKNOWN}",
        "Service Forester's Handbook",
        "On its web pages, table of basal area and plots per acre",
        "Table read",
    ),
    "Steiner1840": Source(
        "J. Steiner", "1840",
        "Über parallele Flächen",
        "Monatsbericht der Akademie der Wissenschaften zu Berlin, 1840, pp. 114-118",
        "From memory: girth and area of a convex figure with an even rim",
    ),
    "Subedi2018": Source(
        "S. Subedi", "2018",
        "Rules of the DBH Measurement",
        "On the web",
        "Read",
    ),
    "SwissLWF": Source(
        "Swiss Federal Research Institute WSL", "year not known to us",
        "Inventory (of the long-term forest plots)",
        "On its web pages",
        "Read: girth bands at a mark at 1.3 m",
    ),
    "SwissNFI2": Source(
        "Swiss National Forest Inventory", "year not known to us",
        "BHD, in the archive of its second inventory's variables",
        "On its web pages; it sends to the field manual of 1993 to 1995, chapter 8.13, p. 87",
        "The entry read, the manual not",
    ),
    "SydneyGardens": Source(
        "Royal Botanic Garden Sydney", "year not known to us",
        "How do I record the diameter of the tree?",
        "On its web pages, for a survey of trees with hollows",
        "Read: 1.4 metres",
    ),
    "TaylorKuyatt1994": Source(
        "B. N. Taylor, C. E. Kuyatt", "1994",
        "Guidelines for Evaluating and Expressing the Uncertainty of NIST Measurement Results",
        "NIST Technical Note 1297, section 6.2",
        "Read: k = 2 covers about 95 per cent where the spread is normal and the doubt itself well "
        "known",
    ),
    "TeakSections": Source(
        UNKNOWN, f"year {UNKNOWN}",
        "Buttresses of plantation teak in northern Thailand (title in our words)",
        f"Journal {UNKNOWN}",
        "Abstract read, which did not show who wrote it: 331 trees, sections from photographs that "
        "were scaled and freed of distortion; on 73 per cent of the trees a tape's diameter was "
        "more than 3 per cent over that of the same area at some height",
    ),
    "TexasBigTrees2017": Source(
        "Texas A&M Forest Service (from memory)", "2017 (of the text)",
        "Texas Big Tree Registry: Registry Rules and Measuring Procedures",
        "In a reprint on the web",
        "First page read: trunks that meet at or above 4.5 feet are one; the combined area of "
        "several",
    ),
    "TexasGuidelines": Source(
        "Texas A&M Forest Service (from memory)", "year not known to us",
        "Measurement Guidelines",
        "On the web, examples A to D",
        "Read: midway between both sides on slopes and leaning stems, the smallest girth below "
        "breast height or below the lowest fork",
    ),
    "TreeTerms": Source(
        "A companion to British arboriculture, abridged on the web", "year not known to us",
        "A to Z of tree terms (title as named there)",
        "On its web pages",
        "Entry main-stem diameter read: 1.5 m above the ground",
    ),
    "UKSI2016": Source(
        "United Kingdom", "2016",
        "The Measuring Instruments Regulations 2016",
        "SI 2016/1153, schedule 1I (material measures of length)",
        "Read",
    ),
    "VanHooser1984": Source(
        "D. D. Van Hooser, D. C. Chojnacky", "1984",
        "Tree Diameter Measurements at English and Metric Standard Heights: A Comparison",
        "USDA Forest Service, Intermountain Forest and Range Experiment Station, Research Paper "
        "INT-327",
        "Summary read: diameters at 1.3 m and at 1.37 m differ by around 1 per cent on average",
    ),
    "Villarino2006": Source(
        "M. B. Villarino", "2006",
        "A note on the accuracy of Ramanujan's approximative formula for the perimeter of an "
        "ellipse",
        "Journal of Inequalities in Pure and Applied Mathematics 7(1), article 21",
        "Abstract and introduction read",
    ),
    "Weerahandi1993": Source(
        "S. Weerahandi", "1993",
        "Generalized confidence intervals",
        "Journal of the American Statistical Association 88, pp. 899-905",
        "From memory: intervals of what is made of several variances, by draws of their pivots",
    ),
    "WikiTaper": Source(
        "An encyclopedia that anyone edits, unsigned", "year not known to us",
        "Tree taper",
        "On the web",
        "Read: a stem curve with the exponent 1.6, which it says is from D. W. Ormerod, A simple "
        "bole model, The Forestry Chronicle 49, 1973, pp. 136-138; that we did not read",
    ),
    "Wilrich2013": Source(
        "P.-T. Wilrich", "2013",
        "Critical values of Mandel's h and k, the Grubbs and the Cochran test statistic",
        "AStA Advances in Statistical Analysis 97, pp. 1-10",
        "Abstract read: it gives exact formulas; the formulas themselves are theorems",
    ),
    "WoodlandStewardship": Source(
        "Woodland stewardship handbook, author not known to us", "year not known to us",
        "Woodland Stewardship, chapter 2 (title from its address)",
        "On its web pages",
        "Read: uphill side, tape perpendicular to the lean, the first free place above "
        "branches, forks below breast height as trees",
    ),
}
# fmt: on


def cite(key: str) -> str:
    """The full reference behind a key.

    key: one of :data:`SOURCES`. Raises KeyError for an unknown one.

    >>> cite("AS1964")[:14]
    'M. Abramowitz,'
    """
    return str(SOURCES[key])
