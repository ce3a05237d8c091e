namespace DecayAtlas.Figures.Charts;

/// <summary>Several charts in rows and columns under one title; the legend is that of the first.</summary>
/// <param name="Panels">Charts, row by row; their titles stand above them, their notes are left out.</param>
public sealed record PanelChart(string Title, string AltText, IReadOnlyList<Chart> Panels, int Columns) : Chart(Title, AltText)
{
    internal override IEnumerable<LegendKey> Legend => Panels.Count > 0 ? Panels[0].Legend : [];

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        int rows = (Panels.Count + Columns - 1) / Columns;
        double width = area.Width / Columns, height = area.Height / Math.Max(1, rows);
        for (int i = 0; i < Panels.Count; i++)
        {
            double left = area.Left + i % Columns * width, top = area.Top + i / Columns * height;
            (string title, float size) = Lettering.Fit(Panels[i].Title, (float)width - 20, 13, 10, bold: true);
            sheet.Write(HouseColours.Ink, title, left + 4, top + 15, size: size, isBold: true);
            Panels[i].DrawBody(sheet, new Area(left + 4, top + 16, left + width - 12, top + height - 8));
        }
    }
}
