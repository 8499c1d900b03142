"""What the formulas rest on, by the key that stands in their References."""

SOURCES = {
    "definition": "Definition.",
    "derived": "Derived here from geometry or mechanics.",
    "iso-12781-1": "ISO 12781-1:2011, Flatness: vocabulary and parameters.",
    "iso-14405-1": "ISO 14405-1:2016, Dimensional tolerancing: linear sizes.",
    "iso-286-1": "ISO 286-1:2010, ISO code system for tolerances on linear sizes.",
    "memory": "From memory; look it up before you rely on it.",
    "practice": "Common practice, no source.",
    "tribology-abc": "Tribology-abc.com, calculators of bolted joints (e3_6a, e3_6b).",
    "vdi-2230-1": "VDI 2230 part 1, Systematic calculation of highly stressed bolted joints.",
}
