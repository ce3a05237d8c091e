using System.Globalization;
using System.Xml;
using System.Xml.Linq;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>What the GDAL metadata tag (42112) and the missing-value tag (42113) say about one band.</summary>
internal sealed record GdalBandMetadata(double? Scale, double? Offset, double? MissingValue, string? Description, string? Unit)
{
    /// <summary>Of the bands from the first to the last, counted from 1.</summary>
    public static IReadOnlyList<GdalBandMetadata> Read(string path, TiffDirectory directory, int first, int last)
    {
        string? missing = directory.Text(TiffTag.GdalNoData)?.Trim();
        GdalBandMetadata[] found = new GdalBandMetadata[last - first + 1];
        Array.Fill(found,
            new GdalBandMetadata(null, null, string.IsNullOrEmpty(missing) ? null : Number(path, "missing value", missing), null, null));
        foreach (XElement item in directory.Text(TiffTag.GdalMetadata) is { Length: > 0 } xml ? Items(path, xml) : [])
        {
            if (int.TryParse((string?)item.Attribute("sample"), NumberStyles.None, CultureInfo.InvariantCulture, out int sample)
                && sample >= first - 1 && sample < last)
            {
                ref GdalBandMetadata band = ref found[sample - (first - 1)];
                band = (string?)item.Attribute("role") switch
                {
                    "scale" => band with { Scale = Number(path, "scale", item.Value) },
                    "offset" => band with { Offset = Number(path, "offset", item.Value) },
                    "description" => band with { Description = System.Net.WebUtility.HtmlDecode(item.Value) },
                    "unittype" => band with { Unit = System.Net.WebUtility.HtmlDecode(item.Value) },
                    _ => band,
                };
            }
        }

        return found;
    }

    private static IEnumerable<XElement> Items(string path, string xml)
    {
        try
        {
            using XmlReader reader = XmlReader.Create(
                new StringReader(xml), new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit });
            return [.. XDocument.Load(reader).Descendants("Item")];
        }
        catch (XmlException e)
        {
            throw new GridException(
                $"{path} has GDAL metadata that are not well-formed XML ({e.Message.TrimEnd('.')}), so its scale and offset are unknown; "
                + "rewrite the file, for example with gdal_translate.", e);
        }
    }

    private static double Number(string path, string what, string text)
    {
        string plain = text.Trim();
        if (double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
            return value;

        return plain.ToUpperInvariant() switch
        {
            "NAN" or "-NAN" => double.NaN,
            "INF" or "+INF" => double.PositiveInfinity,
            "-INF" => double.NegativeInfinity,
            _ => throw new GridException($"{path} states the {what} \"{plain}\", and a number was expected."),
        };
    }
}
