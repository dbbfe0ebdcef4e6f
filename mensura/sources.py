"""One bibliography with stable keys; docstrings, workbooks and tests cite it in brackets."""

from __future__ import annotations

SOURCES: dict[str, str] = {
    "ArneyOpalach2017": "J. D. Arney, D. Opalach, 2017: a practice note on diameters inflated by "
    "moss, loose bark and debris, to be truncated and not rounded.",
    "AS1964": "M. Abramowitz, I. A. Stegun (eds.), Handbook of Mathematical Functions, National "
    "Bureau of Standards, 1964, chapter 17.",
    "AshHelman1990": "J. Ash, C. Helman, Cunninghamia 2, 1990, pp. 167-182 (bark and wood of "
    "rainforest trees, as named by the dataset's own help text).",
    "Barbier1860": "E. Barbier, Note sur le problème de l'aiguille et le jeu du joint couvert, "
    "Journal de mathématiques pures et appliquées, 1860.",
    "BCFT": "British Commonwealth Forest Terminology, entry on breast height, as carried in a "
    "glossary collection.",
    "Berger2010": "M. Berger, Geometry Revealed, Springer, 2010, pp. 295-296 (isoperimetric "
    "inequality).",
    "Burgan1971": "R. E. Burgan, USDA Forest Service Research Note PSW-244, 1971 (bark swelling "
    "with wet in thick-barked eucalypt; abstract).",
    "Butt2013": "N. Butt and others, Ecological Applications 23(4), 2013, pp. 936-943 (girths "
    "taped twice by volunteers and by experts).",
    "Cauchy1841": "A. L. Cauchy, on the mean width of a convex curve, Comptes rendus de "
    "l'Académie des sciences, 1841 (from memory; year not checked).",
    "CFMP1999": "Code of Forest Mensuration Practice, Research Working Group 2, 1999, ISBN "
    "0-7315-3310-0, sections 2.1.1, 2.2.1 and 3.3.",
    "ClarkEtAl2000": "N. A. Clark, R. H. Wynne, D. L. Schmoldt, Forest Science 46(4), 2000, pp. "
    "570-576.",
    "Draper1998": "N. R. Draper, H. Smith, Applied Regression Analysis, 3rd edition, Wiley, 1998, "
    "exercise 24.N: source of the orange trees, as named by the dataset's own help text.",
    "Eichordnung1911": "Eichordnung für das Deutsche Reich, 1911, sections 21 and 23 (tree "
    "calipers), Reichs-Gesetzblatt 1911; known to us from machine-read scans.",
    "ForSci1975": "Forest Science 21(4), December 1975, pp. 365-370: out-of-roundness of "
    "Douglas-fir stems (author Williamson, from memory).",
    "Goulding1979": "C. J. Goulding, Cubic spline curves and calculation of volume of sectionally "
    "measured trees, New Zealand Journal of Forestry Science 9(1), 1979, pp. 89-99.",
    "GUM1995": "JCGM 100:2008 (GUM 1995), Evaluation of measurement data: clause 5.1.2 with its "
    "note; example H.1 (expansion of steel, as coded in an open example file that we saw); example "
    "H.2; clauses 4.2.3 and 4.3.7 (from memory).",
    "Hurwitz1902": "A. Hurwitz, Sur quelques applications géométriques des séries de Fourier, "
    "Annales scientifiques de l'École normale supérieure, 1902 (from memory).",
    "Kleinn2007": "C. Kleinn, Lecture Notes for the Teaching Module Forest Inventory, University "
    "of Göttingen, 2007, slope correction (read in the course's own wiki).",
    "Luoma2017": "V. Luoma and others, Forests 8(2), 2017, article 38 (diameters and heights "
    "measured again).",
    "Matern1956": "B. Matérn, On the geometry of the cross-section of a stem, Meddelanden från "
    "Statens Skogsforskningsinstitut 46(11), 1956.",
    "Meyer1953": "H. A. Meyer, Forest Mensuration, Penns Valley Publishers, 1953: source of the "
    "31 black cherry trees, as named by the dataset's own help text.",
    "NBS1959": "National Bureau of Standards, Refinement of values for the yard and the pound, "
    "Federal Register, 1959: the international yard of 0.9144 m (from memory).",
    "OEIS-A060708": "OEIS A060708, area of the Reuleaux triangle of width 1; see also S. R. "
    "Finch, Mathematical Constants, section 8.10.",
    "Phillips2016": "S. D. Phillips and others, Journal of Research of NIST 121, 2016, p. 498 "
    "(20 °C as the reference temperature of length).",
    "Pulkkinen2012": "M. Pulkkinen, Silva Fennica 46(5B), 2012, doi 10.14214/sf.924.",
    "Rodriguez2015": "Rodríguez, Blanco and Aunós, Forest Systems 24(3), 2015, doi "
    "10.5424/fs/2015243-05945.",
    "Rowlett": "R. Rowlett, How Many? A Dictionary of Units of Measurement: the hoppus foot is "
    "1.273 cubic feet or 0.036054 m³.",
    "SREF": "Southern Regional Extension Forestry, Service Forester's Handbook, table of basal "
    "area.",
    "Steiner1840": "J. Steiner, Über parallele Flächen, 1840 (parallel sets; from memory).",
    "TaylorKuyatt1994": "B. N. Taylor, C. E. Kuyatt, Guidelines for Evaluating and Expressing the "
    "Uncertainty of NIST Measurement Results, NIST Technical Note 1297, 1994, section 6.2.",
    "UKSI2016": "United Kingdom, The Measuring Instruments Regulations 2016, SI 2016/1153, "
    "schedule 1I (material measures of length).",
    "VanHooser1984": "D. D. Van Hooser, D. C. Chojnacky, USDA Forest Service Research Paper "
    "INT-327, 1984 (diameters at 1.30 m and at 1.37 m).",
    "Villarino2006": "M. B. Villarino, Journal of Inequalities in Pure and Applied Mathematics "
    "7(1), 2006, article 21 (bounds on Ramanujan's ellipse formulas).",
}


def cite(key: str) -> str:
    """The full reference behind a key.

    key: one of :data:`SOURCES`. Raises KeyError for an unknown one.

    >>> cite("AS1964")[:14]
    'M. Abramowitz,'
    """
    return SOURCES[key]
