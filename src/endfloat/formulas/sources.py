"""What the formulas rest on, by the key that stands in their References."""

SOURCES = {
    "ahrons": "E. L. Ahrons, Steam Locomotive Construction and Maintenance.",
    "definition": "Definition.",
    "derived": "Derived here from geometry or mechanics.",
    "iso-12781-1": "ISO 12781-1:2011, Flatness: vocabulary and parameters.",
    "iso-14405-1": "ISO 14405-1:2016, Dimensional tolerancing: linear sizes.",
    "iso-2533": "ISO 2533:1975, Standard atmosphere.",
    "iso-286-1": "ISO 286-1:2010, ISO code system for tolerances on linear sizes.",
    "khurmi-gupta": "R. S. Khurmi and J. K. Gupta, Theory of Machines.",
    "machine-elements": "A textbook of machine elements, as told in the open companion files of FOSSEE, book 764.",
    "memory": "From memory; look it up before you rely on it.",
    "practice": "Common practice, no source.",
    "studentized-range": "Harter, Tables of range and studentized range, Annals of Mathematical Statistics 31 (1960).",
}
