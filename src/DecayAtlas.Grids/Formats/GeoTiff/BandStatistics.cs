using System.Globalization;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// Smallest, largest, mean and standard deviation (of the cells as a population) of what a band stores, as GDAL counts and names them:
/// a program that finds them need not read the band to colour it. Tiles are put together by Chan, Golub and LeVeque 1983.
/// </summary>
internal sealed class BandStatistics
{
    private long _count;
    private double _mean, _squares, _least = double.PositiveInfinity, _most = double.NegativeInfinity;

    /// <param name="stored">As stored, before scale and offset; NaN = missing.</param>
    public void Add(ReadOnlySpan<float> stored)
    {
        long count = 0;
        double sum = 0;
        foreach (float value in stored)
        {
            if (float.IsNaN(value))
                continue;
            count++;
            sum += value;
            _least = Math.Min(_least, value);
            _most = Math.Max(_most, value);
        }

        if (count == 0)
            return;
        double mean = sum / count, squares = 0;
        foreach (float value in stored)
            squares += float.IsNaN(value) ? 0 : (value - mean) * (value - mean);

        double apart = mean - _mean, all = _count + count;
        _squares += squares + apart * apart * _count * count / all;
        _mean += apart * count / all;
        _count += count;
    }

    /// <summary>By GDAL's names; none where no cell has a value, or where one is infinite.</summary>
    /// <param name="cells">Of the whole band.</param>
    public IEnumerable<(string Name, string Value)> Items(long cells)
    {
        if (_count == 0 || !double.IsFinite(_mean))
            return [];
        return
        [
            ("STATISTICS_MAXIMUM", Text(_most)), ("STATISTICS_MEAN", Text(_mean)), ("STATISTICS_MINIMUM", Text(_least)),
            ("STATISTICS_STDDEV", Text(Math.Sqrt(_squares / _count))),
            ("STATISTICS_VALID_PERCENT", (100.0 * _count / cells).ToString("G4", CultureInfo.InvariantCulture)),
        ];
    }

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
