namespace DecayAtlas.Prediction.Training;

/// <summary>The classes that a covariate has in a model; a row holds its class by the place in <paramref name="Names"/>.</summary>
/// <param name="Names">In ordinal order.</param>
/// <param name="Joined">Classes with too few rows to stand alone, which the class <see cref="Other"/> stands for.</param>
/// <param name="Rows">Training rows of each.</param>
public sealed record CovariateClasses(IReadOnlyList<string> Names, IReadOnlyList<string> Joined, IReadOnlyList<int> Rows)
{
    /// <summary>A class with fewer does not stand alone (common practice, no source).</summary>
    public const int FewestRows = 10, FewestBlocks = 3;

    /// <summary>What rare classes are joined to; a class that is called so is one of them.</summary>
    public const string Other = "other";

    /// <summary>In the place of a class that the model never saw.</summary>
    public const int Unseen = -1;

    /// <summary>In words, for whoever must choose.</summary>
    public string Choice => string.Join(", ", Names);

    /// <summary>Whether a class is called by a code, as those of grids without names are.</summary>
    internal bool HasCodes => Names.Concat(Joined).Any(name =>
        double.TryParse(name, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out _));

    /// <summary>The place of a class; <see cref="Unseen"/> for one that the model never saw.</summary>
    public int PlaceOf(string name)
    {
        string key = KeyOf(name);
        int at = Find(Names);
        return at >= 0 || Find(Joined) < 0 ? at : PlaceOf(Other);

        int Find(IReadOnlyList<string> among)
        {
            for (int i = 0; i < among.Count; i++)
            {
                if (KeyOf(among[i]) == key)
                    return i;
            }

            return Unseen;
        }
    }

    /// <summary>What two spellings of one class share: capitals and spaces around aside. Nothing more, since signs may
    /// be all that tells two soil units apart.</summary>
    internal static string KeyOf(string name) => name.Trim().ToLowerInvariant();

    /// <summary>The commonest of several spellings of one class, of equals the first.</summary>
    internal static string SpellingOf(IEnumerable<string> spellings) => spellings.GroupBy(s => s.Trim(), StringComparer.Ordinal)
        .OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).First().Key;
}

/// <summary>A class with too few training rows to stand alone.</summary>
/// <param name="IsJoined">Whether it is among others; else its rows are left out.</param>
public sealed record RareClass(string Covariate, string Class, int Rows, bool IsJoined);
