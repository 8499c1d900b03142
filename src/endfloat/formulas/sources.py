"""What the formulas rest on, by the key that stands in their References."""

SOURCES = {
    "ac-43-13-1b": "FAA AC 43.13-1B change 1, chapter 8, as quoted in the FAASTeam tip of November 2011.",
    "compression-ratio-article": "Encyclopaedia article Compression ratio, as mirrored at altsci.com.",
    "definition": "Definition.",
    "derived": "Derived here from geometry or mechanics.",
    "fox-mcdonald": "R. W. Fox and A. T. McDonald, Introduction to Fluid Mechanics.",
    "furuhama-1961": "S. Furuhama and T. Tada, Bulletin of JSME 4(16), 684 (1961), doi 10.1299/jsme1958.4.684.",
    "iso-12781-1": "ISO 12781-1:2011, Flatness: vocabulary and parameters.",
    "iso-14405-1": "ISO 14405-1:2016, Dimensional tolerancing: linear sizes.",
    "iso-286-1": "ISO 286-1:2010, ISO code system for tolerances on linear sizes.",
    "memory": "From memory; look it up before you rely on it.",
    "practice": "Common practice, no source.",
    "rajput-engines": "R. K. Rajput, Internal Combustion Engines.",
    "snowtech-altitude": "Snowtechmagazine.com, letter 20% Less At Altitude.",
    "tribology-abc": "Tribology-abc.com, calculators of bolted joints (e3_6a, e3_6b).",
    "us-standard-atmosphere-1976": "U.S. Standard Atmosphere, 1976.",
    "vdi-2230-1": "VDI 2230 part 1, Systematic calculation of highly stressed bolted joints.",
}
