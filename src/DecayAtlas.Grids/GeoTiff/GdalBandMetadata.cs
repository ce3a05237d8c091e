using System.Globalization;
using System.Xml;
using System.Xml.Linq;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>What the GDAL metadata tag (42112) and the missing-value tag (42113) say about one band.</summary>
internal sealed record GdalBandMetadata(double? Scale, double? Offset, double? MissingValue, string? Description, string? Unit)
{
    public static GdalBandMetadata Read(string path, TiffDirectory directory, int band)
    {
        double? scale = null;
        double? offset = null;
        string? description = null;
        string? unit = null;
        if (directory.Text(LibTiff.GdalMetadata) is { Length: > 0 } xml)
        {
            string sample = (band - 1).ToString(CultureInfo.InvariantCulture);
            foreach (XElement item in Items(path, xml))
            {
                if ((string?)item.Attribute("sample") == sample)
                {
                    switch ((string?)item.Attribute("role"))
                    {
                        case "scale": scale = Number(path, "scale", item.Value); break;
                        case "offset": offset = Number(path, "offset", item.Value); break;
                        case "description": description = System.Net.WebUtility.HtmlDecode(item.Value); break;
                        case "unittype": unit = System.Net.WebUtility.HtmlDecode(item.Value); break;
                        default: break;
                    }
                }
            }
        }

        string? missing = directory.Text(LibTiff.GdalNoData)?.Trim();
        return new GdalBandMetadata(
            scale,
            offset,
            string.IsNullOrEmpty(missing) ? null : Number(path, "missing value", missing),
            description,
            unit);
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
        {
            return value;
        }

        return plain.ToUpperInvariant() switch
        {
            "NAN" or "-NAN" => double.NaN,
            "INF" or "+INF" => double.PositiveInfinity,
            "-INF" => double.NegativeInfinity,
            _ => throw new GridException($"{path} states the {what} \"{plain}\", and a number was expected."),
        };
    }
}
