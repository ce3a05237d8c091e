namespace DecayAtlas.Figures.Drawing;

/// <summary>A colour of the house as #rrggbb: on light ground, which files and paper are, and on dark ground.</summary>
public sealed record Tone(string Name, string Light, string Dark);
