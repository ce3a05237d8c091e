namespace DecayAtlas.Prediction.Regions;

/// <summary>
/// How uncertain a mean over many cells is whose errors are alike where they lie near each other.
/// </summary>
/// <remarks>
/// Law of propagation with covariances (JCGM 100:2008, 5.2): the squared half-width of the mean is the double sum over cells of g_i g_j
/// r_ij, with g = weight x k x half-width of ln k, and r the correlation of errors: that of the residuals' variogram
/// (<see cref="ErrorCorrelation"/>), plus 1/B for what all cells share because the model as a whole rests on B blocks of sites. The
/// double sum runs over squares of cells, at most about a thousand; the errors of one square with a spatial pattern count as equal, which
/// errs to the wide side. The half-widths are those of the prediction interval, so the mean's interval has its level as far as errors
/// add up as normal ones do.
/// </remarks>
internal sealed class MeanError(ErrorCorrelation errors)
{
    private readonly Dictionary<(int, int), Square> _squares = [];
    private double _single, _sum;

    /// <param name="weight">Weight x k x half-width of ln k.</param>
    public void Add((int, int) square, GeoPoint place, double weight)
    {
        if (!_squares.TryGetValue(square, out Square? known))
            _squares[square] = known = new();
        known.Add(place, weight);
        _single += weight * weight;
        _sum += weight;
    }

    /// <summary>Half-width of the sum of the cells, and to how many cells with unrelated errors they amount.</summary>
    public (double HalfWidth, double IndependentCells) Result()
    {
        double share = errors.StructuredShare;
        Square[] all = _squares.OrderBy(s => s.Key).Select(s => s.Value).ToArray();
        double square = (1 - share) * _single + (errors.Blocks > 0 ? _sum * _sum / errors.Blocks : 0);
        for (int a = 0; a < all.Length; a++)
        {
            square += share * all[a].Weight * all[a].Weight;
            for (int b = a + 1; b < all.Length; b++)
                square += 2 * all[a].Weight * all[b].Weight * errors.At(all[a].Place.GroundDistanceMetres(all[b].Place));
        }
        return (Math.Sqrt(square), square > 0 ? _sum * _sum / square : 0);
    }

    /// <summary>A square of cells, with its centre of weight; longitudes are averaged around that of its first cell.</summary>
    private sealed class Square
    {
        private double _first = double.NaN, _east, _north;

        public double Weight { get; private set; }

        public GeoPoint Place => Weight > 0 ? new(_first + _east / Weight, _north / Weight) : new(_first, 0);

        public void Add(GeoPoint place, double weight)
        {
            _first = double.IsNaN(_first) ? place.LongitudeDegrees : _first;
            _east += weight * Math.IEEERemainder(place.LongitudeDegrees - _first, 360);
            _north += weight * place.LatitudeDegrees;
            Weight += weight;
        }
    }
}
