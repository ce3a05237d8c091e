using System.Globalization;
using System.Xml.Linq;
using SkiaSharp;

namespace DecayAtlas.Prediction.Joint;

/// <summary>Names and colours of the classes of a GeoTIFF, as GDAL and its users read them: <c>NAME.tif.aux.xml</c> beside it with
/// categories and a raster attribute table (GDAL, Persistent Auxiliary Metadata).</summary>
internal static class RasterLabels
{
    // GDALRATFieldType and GDALRATFieldUsage
    private const int Whole = 0, Words = 2, IsName = 2, IsValue = 5, IsRed = 6, IsGreen = 7, IsBlue = 8;

    public static string Xml(IReadOnlyList<JointClass> classes)
    {
        (string Name, int Type, int Usage, Func<JointClass, string> Value)[] fields =
        [
            ("Value", Whole, IsValue, c => Text(c.Code)), ("Class", Words, IsName, c => c.Words),
            ("Red", Whole, IsRed, c => Text(SKColor.Parse(c.Colour).Red)),
            ("Green", Whole, IsGreen, c => Text(SKColor.Parse(c.Colour).Green)),
            ("Blue", Whole, IsBlue, c => Text(SKColor.Parse(c.Colour).Blue)),
        ];
        XElement table = new("GDALRasterAttributeTable", new XAttribute("tableType", "thematic"),
            fields.Index().Select(f => new XElement("FieldDefn", new XAttribute("index", f.Index), new XElement("Name", f.Item.Name),
                new XElement("Type", f.Item.Type), new XElement("Usage", f.Item.Usage))),
            classes.Index().Select(c => new XElement("Row", new XAttribute("index", c.Index),
                fields.Select(f => new XElement("F", f.Value(c.Item))))));
        // the first category is that of the code 0, which no cell has
        XElement categories = new("CategoryNames", classes.Select(c => c.Words).Prepend("").Select(n => new XElement("Category", n)));
        return new XElement("PAMDataset", new XElement("PAMRasterBand", new XAttribute("band", 1), categories, table))
            .ToString().ReplaceLineEndings("\n") + "\n";
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
