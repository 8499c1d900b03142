"""What the formulas rest on, by the key that stands in their References."""

SOURCES = {
    "army-ring-gap": "US Army engine manual: 0.003 in of ring gap for 0.001 in of bore, as a public text quotes it.",
    "astm-d2270": "ASTM D2270-10, Calculating viscosity index from kinematic viscosity at 40 and 100 °C.",
    "astm-d341": "ASTM D341, Viscosity-temperature charts for liquid petroleum products.",
    "boresi": "A. P. Boresi, R. J. Schmidt, Advanced mechanics of materials, chapter 11.",
    "definition": "Definition.",
    "derived": "Derived here from geometry or mechanics.",
    "fox-mcdonald": "R. W. Fox, A. T. McDonald, Introduction to fluid mechanics.",
    "iso-1": "ISO 1:2016, Standard reference temperature for geometrical and dimensional properties.",
    "iso-12781-1": "ISO 12781-1:2011, Flatness: vocabulary and parameters.",
    "iso-14405-1": "ISO 14405-1:2016, Dimensional tolerancing: linear sizes.",
    "iso-286-1": "ISO 286-1:2010, ISO code system for tolerances on linear sizes.",
    "iso-286-2": "ISO 286-2:2010, Tables of standard tolerance classes and limit deviations for holes and shafts.",
    "memory": "From memory; look it up before you rely on it.",
    "ocvirk": "F. W. Ocvirk, Short-bearing approximation for full journal bearings, NACA TN 2808, 1952.",
    "practice": "Common practice, no source.",
    "raimondi-boyd": "A. A. Raimondi, J. Boyd, A solution for the finite journal bearing, ASLE Trans. 1, 1958.",
    "sae-j300": "SAE J300, Engine oil viscosity classification, edition of January 2015.",
    "shigley": "J. E. Shigley and others, Mechanical engineering design, chapters 3 and 12.",
    "someya": "T. Someya, Journal-bearing databook, Springer 1989.",
    "tm-5-4320": "US Army TM 5-4320-300-14.",
}
