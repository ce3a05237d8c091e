using System.Globalization;
using System.Text;
using System.Xml.Linq;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>What a GeoTIFF says of its place (OGC 19-008r4) and of its bands (GDAL's metadata tag).</summary>
internal static class GeoTiffTags
{
    private const short UserDefined = 32767;

    /// <summary>The directory of keys and its texts; empty text where it has none.</summary>
    public static (short[] Keys, string Texts) KeysOf(Projection projection)
    {
        int code = EpsgOf(projection);
        if (projection.IsGeographic)
        {
            // Version 1.1.0, four keys: geographic model, pixel is area, the system, degrees.
            return ([1, 1, 0, 4, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, (short)(code == 0 ? 4326 : code), 2054, 0, 1, 9102], "");
        }

        if (code != 0)
            return ([1, 1, 0, 3, 1024, 0, 1, 1, 1025, 0, 1, 1, 3072, 0, 1, unchecked((short)code)], "");

        // A system without a code travels as text, in the keys where GDAL writes and looks for it.
        string name = Ascii(projection.Name) + "|", text = "ESRI PE String = " + Ascii(projection.Wkt) + "|";
        short ascii = unchecked((short)TiffTag.GeoAsciiParams);
        return (
            [
                1, 1, 0, 7, 1024, 0, 1, UserDefined, 1025, 0, 1, 1, 1026, ascii, checked((short)name.Length), 0, 2048, 0, 1, 4326,
                2054, 0, 1, 9102,
                3073, ascii, checked((short)text.Length), checked((short)name.Length), 3076, 0, 1, 9001,
            ],
            name + text);
    }

    /// <param name="statistics">Of each band.</param>
    /// <param name="cells">Of a band.</param>
    public static string Metadata(
        IReadOnlyList<GeoTiffBand> bands, IReadOnlyDictionary<string, string> tags, IReadOnlyList<BandStatistics> statistics, long cells)
    {
        XElement root = new("GDALMetadata");
        foreach ((string name, string value) in tags.OrderBy(tag => tag.Key, StringComparer.Ordinal))
            root.Add(new XElement("Item", new XAttribute("name", name), Escaped(value)));

        for (int i = 0; i < bands.Count; i++)
        {
            GeoTiffBand band = bands[i];
            root.Add(Item(i, "DESCRIPTION", "description", band.Name));
            root.Add(Item(i, "UNITTYPE", "unittype", band.Unit));
            if (band.Scale is { } scale)
            {
                root.Add(Item(i, "OFFSET", "offset", band.Offset.ToString("R", CultureInfo.InvariantCulture)));
                root.Add(Item(i, "SCALE", "scale", scale.ToString("R", CultureInfo.InvariantCulture)));
            }

            foreach ((string name, string value) in statistics[i].Items(cells))
                root.Add(new XElement("Item", new XAttribute("name", name), new XAttribute("sample", i), value));
        }

        return root.ToString(SaveOptions.DisableFormatting);
    }

    private static int EpsgOf(Projection projection) =>
        projection.Code is { } code && code.StartsWith("EPSG:", StringComparison.Ordinal)
            ? int.Parse(code.AsSpan(5), CultureInfo.InvariantCulture) : 0;

    private static XElement Item(int band, string name, string role, string value) => new(
        "Item", new XAttribute("name", name), new XAttribute("sample", band), new XAttribute("role", role), Escaped(value));

    private static string Ascii(string text) => Encoding.ASCII.GetString(Encoding.ASCII.GetBytes(text));

    /// <summary>
    /// GDAL unescapes the text of an item once more after parsing the XML; and the tag is ASCII, so other letters travel
    /// as character references.
    /// </summary>
    private static string Escaped(string text) => string.Concat(text.EnumerateRunes().Select(rune => rune.Value switch
    {
        '&' => "&amp;",
        '<' => "&lt;",
        '>' => "&gt;",
        '"' => "&quot;",
        >= 128 or < 32 => $"&#{rune.Value};",
        _ => rune.ToString(),
    }));
}
