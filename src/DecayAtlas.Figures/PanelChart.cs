using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>Several charts in rows and columns under one title; the legend is that of the first.</summary>
/// <param name="Panels">Charts, row by row; their titles stand above them, their notes are left out.</param>
/// <param name="Columns">Charts in a row.</param>
public sealed record PanelChart(string Title, string AltText, IReadOnlyList<Chart> Panels, int Columns) : Chart(Title, AltText)
{
    internal override IReadOnlyList<LegendKey> Legend => Panels.Count > 0 ? Panels[0].Legend : [];

    internal override void PaintBody(SKCanvas canvas, SKRect area)
    {
        int rows = (Panels.Count + Columns - 1) / Columns;
        float width = (area.Width - 8) / Columns, height = area.Height / Math.Max(1, rows);
        for (int i = 0; i < Panels.Count; i++)
        {
            float left = area.Left + 4 + i % Columns * width, top = area.Top + i / Columns * height;
            Panels[i].PaintWithin(canvas, new SKRect(left, top, left + width, top + height), 13);
        }
    }
}
