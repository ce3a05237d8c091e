using System.Buffers.Binary;

namespace DecayAtlas.Pages.Scripts;

/// <summary>What the map draws under the sites: land, and the predicted rate.</summary>
internal static class MapScripts
{
    public const string LandFile = "data/land.js", RasterFile = "data/prediction.js";

    public static IEnumerable<(string File, string Text)> All(PagesInputs inputs)
    {
        object land = new { polygons = inputs.Land, scale = ScaleOf(inputs), ramp = Ramp.Rates.Stops };
        yield return (LandFile, Script.Assign("atlasLand", land));
        if (inputs.Raster is { } raster)
            yield return (RasterFile, Raster(raster));
    }

    /// <summary>One scale for sites and map, so that a site can be held against what is predicted round it: the middle 96 % of
    /// both.</summary>
    private static double[] ScaleOf(PagesInputs inputs)
    {
        double[] sorted = Quantiles.Sort(inputs.Data.Rates.Values.Select(r => r.RatePerDay).OfType<double>()
            .Concat((inputs.Raster?.RatePerDay ?? []).Where(v => v > 0)));
        if (sorted.Length == 0)
            return [0.001, 0.1];
        double low = Quantiles.Of(sorted, 0.02), high = Quantiles.Of(sorted, 0.98);
        return high > low ? [Script.Short(low)!.Value, Script.Short(high)!.Value] : [low * 0.9, high * 1.1];
    }

    /// <summary>Rates as sixteen bits of ln k between the smallest and the largest, 0 where there is none: to 0.01 % of the
    /// range.</summary>
    private static string Raster(MapRaster raster)
    {
        double[][] layers = [raster.RatePerDay, .. new[] { raster.Lower, raster.Upper }.OfType<double[]>()];
        double[] known = [.. layers.SelectMany(l => l).Where(v => v > 0 && double.IsFinite(v))];
        double low = Math.Log(known.DefaultIfEmpty(1).Min()), high = Math.Log(known.DefaultIfEmpty(2).Max());
        double range = Math.Max(high - low, 1e-9);
        return Script.Assign("atlasPrediction", new
        {
            columns = raster.Columns,
            rows = raster.Rows,
            west = raster.WestDegrees,
            south = raster.SouthDegrees,
            east = raster.EastDegrees,
            north = raster.NorthDegrees,
            lnLow = low,
            lnRange = range,
            rate = Pack(raster.RatePerDay),
            lower = raster.Lower is { } lower ? Pack(lower) : null,
            upper = raster.Upper is { } upper ? Pack(upper) : null,
            applies = raster.Applies is { } applies ? Convert.ToBase64String([.. applies.Select(v => (byte)(v >= 0.5 ? 1 : 0))]) : null,
        });

        string Pack(double[] layer)
        {
            byte[] bytes = new byte[2 * layer.Length];
            for (int i = 0; i < layer.Length; i++)
            {
                ushort code = layer[i] > 0 && double.IsFinite(layer[i])
                    ? (ushort)(1 + Math.Round((Math.Log(layer[i]) - low) / range * 65534)) : (ushort)0;
                BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(2 * i), code);
            }

            return Convert.ToBase64String(bytes);
        }
    }
}
