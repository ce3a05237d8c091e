namespace DecayAtlas.Pages.Reading.Ground;

/// <summary>Land as the sun of a map in the north-west shades it, and water, on the cells of the map.</summary>
/// <param name="Shades">Of each cell 1 (dark) to 255 (in full light), and 0 for water: where the grid has no height, or none above
/// 0.</param>
public sealed record Relief(MapCells Cells, byte[] Shades)
{
    // the sun of printed maps: from the north-west, half-way up
    private const double Altitude = Math.PI / 4, Azimuth = 315 * Math.PI / 180;

    /// <summary>Slopes of a coarse grid are gentle, so heights are drawn larger until the steep tenth of the land rises by this; common
    /// practice, no source.</summary>
    private const double SteepTenth = 0.6;

    /// <exception cref="GridException">The file is damaged.</exception>
    public static Relief Of(MapCells cells, Grid heights)
    {
        double[] metres = cells.ValuesOf(heights);
        double[] widths = [.. Enumerable.Range(0, cells.Rows).Select(row => WidthMetres(cells, row))];
        double height = cells.MiddleOf(cells.Columns / 2, 0).GroundDistanceMetres(cells.MiddleOf(cells.Columns / 2, cells.Rows - 1))
            / Math.Max(1, cells.Rows - 1);
        double[] steepness = Quantiles.Sort(SlopesOf(cells.Columns, metres, widths, height).Select(s => Math.Sqrt(s.X * s.X + s.Y * s.Y))
            .Where(s => s > 0));
        double larger = steepness.Length == 0 ? 1 : SteepTenth / Quantiles.Of(steepness, 0.9);
        return new Relief(cells, Shade(cells.Columns, metres, widths, height, larger));
    }

    /// <summary>Light on each cell by the slopes of Horn 1981 (doi:10.1109/PROC.1981.11918).</summary>
    /// <param name="widths">Of a cell of each row, metres.</param>
    /// <param name="larger">How many times heights are drawn larger.</param>
    internal static byte[] Shade(int columns, double[] metres, double[] widths, double height, double larger)
    {
        byte[] shades = new byte[metres.Length];
        foreach ((int at, double x, double y) in SlopesOf(columns, metres, widths, height))
        {
            double slope = Math.Atan(larger * Math.Sqrt(x * x + y * y)), downhill = Math.Atan2(-x, -y);
            double light = Math.Sin(Altitude) * Math.Cos(slope) + Math.Cos(Altitude) * Math.Sin(slope) * Math.Cos(Azimuth - downhill);
            shades[at] = (byte)(1 + Math.Round(254 * Math.Max(0, light)));
        }

        return shades;
    }

    // rise to the east and to the north; beyond a shore the land goes on as high as it is
    private static IEnumerable<(int At, double X, double Y)> SlopesOf(int columns, double[] metres, double[] widths, double height)
    {
        int rows = metres.Length / columns;
        for (int at = 0; at < metres.Length; at++)
        {
            int column = at % columns, row = at / columns;
            if (!IsLand(metres[at]))
                continue;
            double east = Side(1, -1) + 2 * Side(1, 0) + Side(1, 1), west = Side(-1, -1) + 2 * Side(-1, 0) + Side(-1, 1);
            double north = Side(-1, -1) + 2 * Side(0, -1) + Side(1, -1), south = Side(-1, 1) + 2 * Side(0, 1) + Side(1, 1);
            yield return (at, (east - west) / (8 * widths[row]), (north - south) / (8 * height));

            double Side(int right, int down)
            {
                int x = column + right, y = row + down;
                return x >= 0 && x < columns && y >= 0 && y < rows && IsLand(metres[y * columns + x])
                    ? metres[y * columns + x] : metres[at];
            }
        }
    }

    private static bool IsLand(double metres) => metres > 0;

    private static double WidthMetres(MapCells cells, int row) =>
        cells.MiddleOf(0, row).GroundDistanceMetres(cells.MiddleOf(1, row)) is var width && width > 0 ? width : 1;
}
