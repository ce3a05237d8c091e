namespace DecayAtlas.Figures.Charts;

/// <summary>Several charts in rows and columns under one title; the legend is that of the first.</summary>
/// <param name="Panels">Charts, row by row; their titles stand above them, their notes are left out. Where all have one fixed axis, its
/// numbers stand at the left or at the foot alone.</param>
public sealed record PanelChart(string Title, string AltText, IReadOnlyList<Chart> Panels, int Columns) : Chart(Title, AltText)
{
    private const double RoomOfNumbers = 44;

    internal override IEnumerable<LegendKey> Legend => Panels.Count > 0 ? Panels[0].Legend : [];

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        int rows = (Panels.Count + Columns - 1) / Columns;
        bool hasOneY = IsShared(p => p.Y), hasOneX = IsShared(p => p.X);
        double room = hasOneY ? RoomOfNumbers : 0, width = (area.Width - room) / Columns, height = area.Height / Math.Max(1, rows);
        for (int i = 0; i < Panels.Count; i++)
        {
            int column = i % Columns;
            double left = area.Left + column * width + (column > 0 ? room : 0), top = area.Top + i / Columns * height;
            (string title, float size) = Lettering.Fit(Panels[i].Title, (float)width - 20, 13, 10, bold: true);
            sheet.Write(HouseColours.Ink, title, left, top + 15, size: size, isBold: true);
            Panels[i].Inner(!hasOneY ? null : column > 0 ? 0 : room, !hasOneX || i + Columns >= Panels.Count)
                .DrawBody(sheet, new Area(left, top + 16, left + width + (column > 0 ? 0 : room) - 16, top + height - 8));
        }
    }

    private bool IsShared(Func<XyChart, Axis> axisOf)
    {
        Axis[] axes = [.. Panels.OfType<XyChart>().Select(axisOf)];
        return axes.Length > 1 && axes[0].IsFixed && axes.All(a => a == axes[0]);
    }
}
