using System.Buffers.Binary;

namespace DecayAtlas.Pages.Scripts;

/// <summary>What the map draws under the sites: land, and what is predicted of k and of S, from which the page tells the classes of
/// both.</summary>
internal static class MapScripts
{
    public const string LandFile = "data/land.js", RasterFile = "data/prediction.js", StabilisationFile = "data/prediction-s.js",
        ReliefFile = "data/relief.js";

    public static IEnumerable<(string File, string Text)> All(PagesInputs inputs)
    {
        object land = new
        {
            polygons = inputs.Land,
            places = inputs.Places.Select(p => new object[]
            {
                p.Name, Script.Short(p.At.LatitudeDegrees)!, Script.Short(p.At.LongitudeDegrees)!, Script.Short(p.Box.SouthDegrees)!,
                Script.Short(p.Box.WestDegrees)!, Script.Short(p.Box.NorthDegrees)!, Script.Short(p.Box.EastDegrees)!,
            }),
            k = MapScale.OfRates(inputs),
            s = MapScale.OfStabilisation(inputs),
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
        if (inputs.Relief is { } relief)
            yield return (ReliefFile, Script.Assign("atlasRelief", ReliefOf(relief)));
        if (inputs.Raster is { } raster)
            yield return (RasterFile, Raster("atlasPrediction", raster, isLog: true));
        if (inputs.StabilisationRaster is { } second)
            yield return (StabilisationFile, Raster("atlasStabilisation", second, isLog: false));
    }

    private static object ReliefOf(Relief relief) => new
    {
        columns = relief.Cells.Columns,
        rows = relief.Cells.Rows,
        west = relief.Cells.Box.WestDegrees,
        south = relief.Cells.Box.SouthDegrees,
        east = relief.Cells.Box.EastDegrees,
        north = relief.Cells.Box.NorthDegrees,
        shades = Convert.ToBase64String(relief.Shades),
    };

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
