using System.Buffers.Binary;

namespace DecayAtlas.Pages.Scripts;

/// <summary>What the map draws under the sites: land, and what is predicted of k and of S, from which the page tells the classes of
/// both.</summary>
internal static class MapScripts
{
    public const string LandFile = "data/land.js", RasterFile = "data/prediction.js", StabilisationFile = "data/prediction-s.js";

    public static IEnumerable<(string File, string Text)> All(PagesInputs inputs)
    {
        object land = new
        {
            polygons = inputs.Land,
            k = new { scale = ScaleOf(inputs), ramp = Ramp.Rates.Stops, isLog = true },
            s = new { scale = ScaleOfStabilisation(inputs), ramp = Ramp.Shares.Stops, isLog = false },
            joint = inputs.Joint is { } joint
                ? new
                {
                    rate = joint.CutRatePerDay,
                    stabilisation = joint.CutStabilisation,
                    colours = HouseColours.Joint,
                    pale = HouseColours.JointPale,
                } : null,
        };
        yield return (LandFile, Script.Assign("atlasLand", land));
        if (inputs.Raster is { } raster)
            yield return (RasterFile, Raster("atlasPrediction", raster, isLog: true));
        if (inputs.StabilisationRaster is { } second)
            yield return (StabilisationFile, Raster("atlasStabilisation", second, isLog: false));
    }

    /// <summary>One scale for sites and map, so that a site can be held against what is predicted round it: the middle 96 % of
    /// both.</summary>
    private static double[] ScaleOf(PagesInputs inputs)
    {
        double[] sorted = Quantiles.Sort(inputs.Data.Rates.Values.Select(r => r.RatePerDay).OfType<double>()
            .Concat((inputs.Raster?.Predicted ?? []).Where(v => v > 0)));
        if (sorted.Length == 0)
            return [0.001, 0.1];
        double low = Quantiles.Of(sorted, 0.02), high = Quantiles.Of(sorted, 0.98);
        return high > low ? [Script.Short(low)!.Value, Script.Short(high)!.Value] : [low * 0.9, high * 1.1];
    }

    private static double[] ScaleOfStabilisation(PagesInputs inputs)
    {
        double[] sorted = Quantiles.Sort(inputs.Data.Rates.Values.Select(r => r.Stabilisation).OfType<double>()
            .Concat((inputs.StabilisationRaster?.Predicted ?? []).Where(double.IsFinite)));
        if (sorted.Length == 0)
            return [0, 1];
        double low = Quantiles.Of(sorted, 0.02), high = Quantiles.Of(sorted, 0.98);
        return high > low ? [Script.Short(low)!.Value, Script.Short(high)!.Value] : [low - 0.05, high + 0.05];
    }

    /// <summary>Values as sixteen bits between the smallest and the largest, of k on a logarithmic scale, 0 where there is none: to 0.01 %
    /// of the range.</summary>
    private static string Raster(string name, MapRaster raster, bool isLog)
    {
        double[][] layers = [raster.Predicted, .. new[] { raster.Lower, raster.Upper }.OfType<double[]>()];
        double[] known = [.. layers.SelectMany(l => l).Where(IsKnown)];
        double low = Scaled(known.DefaultIfEmpty(1).Min()), high = Scaled(known.DefaultIfEmpty(2).Max());
        double range = Math.Max(high - low, 1e-9);
        return Script.Assign(name, new
        {
            columns = raster.Columns,
            rows = raster.Rows,
            west = raster.WestDegrees,
            south = raster.SouthDegrees,
            east = raster.EastDegrees,
            north = raster.NorthDegrees,
            low,
            range,
            isLog,
            rate = Pack(raster.Predicted),
            lower = raster.Lower is { } lower ? Pack(lower) : null,
            upper = raster.Upper is { } upper ? Pack(upper) : null,
            applies = raster.Applies is { } applies ? Convert.ToBase64String([.. applies.Select(v => (byte)(v >= 0.5 ? 1 : 0))]) : null,
        });

        bool IsKnown(double value) => double.IsFinite(value) && (!isLog || value > 0);

        double Scaled(double value) => isLog ? Math.Log(value) : value;

        string Pack(double[] layer)
        {
            byte[] bytes = new byte[2 * layer.Length];
            for (int i = 0; i < layer.Length; i++)
            {
                ushort code = IsKnown(layer[i]) ? (ushort)(1 + Math.Round((Scaled(layer[i]) - low) / range * 65534)) : (ushort)0;
                BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(2 * i), code);
            }

            return Convert.ToBase64String(bytes);
        }
    }
}
