namespace DecayAtlas.Prediction.Models;

/// <summary>
/// Smallest and largest value of each feature in a run of rows, in its halves, their halves and so on: range 1 is the whole run, ranges
/// 2 r and 2 r + 1 are the halves of range r. A feature that is not a number in any row of a range has neither there.
/// </summary>
internal readonly ref struct RowRanges
{
    private readonly float[] _low, _high;
    private readonly int _width;

    /// <param name="smallest">Runs of so many rows are not halved further.</param>
    public RowRanges(ReadOnlySpan<float> features, int width, int rows, int smallest)
    {
        _width = width;
        int ranges = 2;
        for (int size = rows; size > smallest; size = (size + 1) / 2)
            ranges *= 2;
        _low = new float[ranges * width];
        _high = new float[ranges * width];
        Fill(1, 0, rows, features, smallest);
    }

    public static int Middle(int from, int to) => from + (to - from + 1) / 2;

    public float Low(int range, int feature) => _low[range * _width + feature];

    public float High(int range, int feature) => _high[range * _width + feature];

    private void Fill(int range, int from, int to, ReadOnlySpan<float> features, int smallest)
    {
        int at = range * _width;
        if (to - from > smallest)
        {
            int middle = Middle(from, to);
            Fill(2 * range, from, middle, features, smallest);
            Fill(2 * range + 1, middle, to, features, smallest);
            for (int c = 0; c < _width; c++)
            {
                _low[at + c] = Math.Min(_low[2 * at + c], _low[2 * at + _width + c]);
                _high[at + c] = Math.Max(_high[2 * at + c], _high[2 * at + _width + c]);
            }
            return;
        }
        for (int c = 0; c < _width; c++)
            _low[at + c] = _high[at + c] = features[from * _width + c];
        for (int row = from + 1; row < to; row++)
        {
            for (int c = 0; c < _width; c++)
            {
                // both keep a not-a-number, and no comparison with it holds
                _low[at + c] = Math.Min(_low[at + c], features[row * _width + c]);
                _high[at + c] = Math.Max(_high[at + c], features[row * _width + c]);
            }
        }
    }
}
