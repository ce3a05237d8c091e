namespace DecayAtlas.Prediction.Regions;

/// <summary>What a model says of the errors at some places.</summary>
/// <param name="LocalHalfWidths">Half-widths of what each place itself is off by, on the scale of ln k; not a number where the model says
/// nothing of a place.</param>
/// <param name="OfMembers">ln k of every member at each place; the values of one member follow those of the one before.</param>
internal sealed record PlaceErrors(double[] LocalHalfWidths, double[] OfMembers);

/// <summary>How sure a mean is, as a factor of it on the scale of ln k.</summary>
/// <param name="Local">Half-width from what places are off by.</param>
/// <param name="Model">From the choice of sites.</param>
/// <param name="Shared">From the lots and batches that sites share.</param>
/// <param name="IndependentCells">To how many cells with unrelated errors of places the cells amount.</param>
internal readonly record struct MeanHalfWidths(double Local, double Model, double Shared, double IndependentCells)
{
    public double Sum => Math.Sqrt(Local * Local + Model * Model + Shared * Shared);
}

/// <summary>
/// How uncertain a mean over many cells is whose errors are alike where they lie near each other.
/// </summary>
/// <remarks>
/// What places are off by: law of propagation with covariances (JCGM 100:2008, 5.2): the squared half-width of the mean is the double sum
/// over cells of g_i g_j r_ij, with g = weight x k x half-width of ln k, and r the correlation of errors, that of the residuals' variogram
/// (<see cref="ErrorCorrelation"/>). The double sum runs over squares of cells, at most about a thousand; the errors of one square with a
/// spatial pattern count as equal, which errs to the wide side. The half-widths are those of intervals, so the mean's interval has its
/// level as far as errors add up as normal ones do. What the model as a whole is off by: the mean that each member gives.
/// </remarks>
internal sealed class MeanError(ErrorCorrelation errors)
{
    private readonly Dictionary<(int, int), Square> _squares = [];

    /// <param name="weight">Weight x k.</param>
    public void Add((int, int) square, GeoPoint place, double weight)
    {
        if (!_squares.TryGetValue(square, out Square? known))
            _squares[square] = known = new(place);
        known.Add(place, weight);
    }

    /// <summary>Weight of each square, in the order in which one cell of each is asked.</summary>
    public IReadOnlyList<double> Weights => [.. _squares.OrderBy(s => s.Key).Select(s => s.Value.Weight)];

    /// <summary>Of the mean of all cells.</summary>
    /// <param name="at">Asked once, of one cell of every square.</param>
    /// <param name="members">How the members' means come to an interval; missing for a model without.</param>
    public MeanHalfWidths Result(Func<IReadOnlyList<GeoPoint>, PlaceErrors> at, MemberMeans? members = null)
    {
        Square[] all = [.. _squares.OrderBy(s => s.Key).Select(s => s.Value)];
        PlaceErrors found = at([.. all.Select(s => s.Place)]);
        int[] known = [.. Enumerable.Range(0, all.Length).Where(i => double.IsFinite(found.LocalHalfWidths[i]))];
        double sum = known.Sum(i => all[i].Weight);
        if (!(sum > 0))
            return new(double.NaN, double.NaN, double.NaN, double.NaN);
        double share = errors.StructuredShare, square = 0, weighted = known.Sum(i => all[i].Weight * found.LocalHalfWidths[i]);
        for (int a = 0; a < known.Length; a++)
        {
            (Square one, double half) = (all[known[a]], found.LocalHalfWidths[known[a]]);
            square += half * half * ((1 - share) * one.Squares + share * one.Weight * one.Weight);
            for (int b = a + 1; b < known.Length; b++)
            {
                Square two = all[known[b]];
                square += 2 * half * one.Weight * found.LocalHalfWidths[known[b]] * two.Weight
                    * errors.At(one.Centre.GroundDistanceMetres(two.Centre));
            }
        }

        MemberHalfWidths ofMembers = members is null ? default : members.HalfWidths(found.OfMembers, all.Length,
            [.. known.Select(i => (i, all[i].Weight / sum))]);
        return new(Math.Sqrt(square) / sum, ofMembers.Model, ofMembers.Shared, square > 0 ? weighted * weighted / square : 0);
    }

    /// <summary>A square of cells, with its centre of weight; longitudes are averaged around that of its first cell.</summary>
    private sealed class Square
    {
        private readonly GeoPoint _first;
        private double _east, _north, _most;

        public Square(GeoPoint first) => _first = Place = first;

        public double Weight { get; private set; }

        public double Squares { get; private set; }

        public GeoPoint Centre => Weight > 0 ? new(_first.LongitudeDegrees + _east / Weight, _north / Weight) : _first;

        /// <summary>The cell of most weight.</summary>
        public GeoPoint Place { get; private set; }

        public void Add(GeoPoint place, double weight)
        {
            _east += weight * Math.IEEERemainder(place.LongitudeDegrees - _first.LongitudeDegrees, 360);
            _north += weight * place.LatitudeDegrees;
            Weight += weight;
            Squares += weight * weight;
            if (weight > _most)
                (_most, Place) = (weight, place);
        }
    }
}
