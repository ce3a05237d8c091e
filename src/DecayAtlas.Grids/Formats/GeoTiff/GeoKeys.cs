namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>The keys of a GeoTIFF's georeference (OGC 19-008r4, chapter 7): whole numbers, numbers and texts by key number.</summary>
internal sealed class GeoKeys
{
    private readonly Dictionary<int, int> _codes = [];
    private readonly Dictionary<int, double> _numbers = [];
    private readonly Dictionary<int, string> _texts = [];

    public static GeoKeys Read(TiffDirectory directory)
    {
        GeoKeys keys = new();
        double[] raw = directory.Numbers(TiffTag.GeoKeyDirectory);
        double[] numbers = directory.Numbers(TiffTag.GeoDoubleParams);
        string texts = directory.Text(TiffTag.GeoAsciiParams) ?? "";
        for (int i = 4; i + 3 < raw.Length; i += 4)
        {
            int key = (int)raw[i], place = (int)raw[i + 1], count = (int)raw[i + 2], value = (int)raw[i + 3];
            if (place == 0)
                keys._codes[key] = value;
            else if (place == TiffTag.GeoDoubleParams && value < numbers.Length)
                keys._numbers[key] = numbers[value];
            else if (place == TiffTag.GeoAsciiParams && value < texts.Length)
                keys._texts[key] = texts.Substring(value, Math.Min(count, texts.Length - value)).TrimEnd('|', '\0');
        }

        return keys;
    }

    public bool Has(int key) => _codes.ContainsKey(key) || _numbers.ContainsKey(key) || _texts.ContainsKey(key);

    /// <summary>A code; 0 where it is absent, which the standard calls undefined.</summary>
    public int Code(int key) => _codes.GetValueOrDefault(key);

    /// <summary>The first of the numbers that is there.</summary>
    public double? Number(params ReadOnlySpan<int> keys)
    {
        foreach (int key in keys)
        {
            if (_numbers.TryGetValue(key, out double value))
                return value;
        }

        return null;
    }

    public string? Text(int key) => _texts.GetValueOrDefault(key);
}
