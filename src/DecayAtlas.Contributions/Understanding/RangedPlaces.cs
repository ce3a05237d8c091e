using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>A line with several positions, each with the numbers of the holes or bags that lie there: 47.62 N 15.33 E (holes 1-3),
/// 47.63 N 15.34 E (holes 4-6).</summary>
/// <param name="Of">What is counted, by the word beside the numbers; null where none is understood.</param>
/// <param name="Places">Each position as it is written, with its numbers.</param>
internal sealed partial record RangedPlaces(Concept? Of, IReadOnlyList<(string Place, IReadOnlySet<int> Numbers)> Places)
{
    private const int MostNumbers = 1000;

    /// <summary>Null where not every position has numbers of its own, or it is not clear which belong to which.</summary>
    public static RangedPlaces? In(string line)
    {
        Match[] positions = [.. LineFacts.PositionsIn(line)];
        if (positions.Length < 2)
            return null;
        // what stands between the positions, and before and behind them
        string[] between = [.. Enumerable.Range(0, positions.Length + 1).Select(i =>
            line[(i == 0 ? 0 : positions[i - 1].Index + positions[i - 1].Length)..(i == positions.Length ? line.Length
                : positions[i].Index)])];
        bool isBefore = NumbersIn(between[0]).Count > 0, isBehind = NumbersIn(between[^1]).Count > 0;
        if (isBefore == isBehind)
            return null;
        string[] beside = isBehind ? between[1..] : between[..^1];
        (string Place, IReadOnlySet<int> Numbers)[] places =
            [.. positions.Select((position, i) => (position.Value.Trim(), (IReadOnlySet<int>)NumbersIn(beside[i])))];
        bool isClear = places.All(place => place.Numbers.Count > 0)
            && places.SelectMany(place => place.Numbers).GroupBy(number => number).All(own => own.Count() == 1);
        return isClear ? new RangedPlaces(ConceptIn(string.Join(' ', beside)), places) : null;
    }

    public static RangedPlaces? FirstIn(IEnumerable<TidyCell> lines) =>
        lines.Select(cell => In(cell.Value.Text)).FirstOrDefault(ranged => ranged is not null);

    private static HashSet<int> NumbersIn(string text)
    {
        HashSet<int> numbers = [];
        foreach (Match match in Range().Matches(text))
        {
            int from = int.Parse(match.Groups["from"].Value, CultureInfo.InvariantCulture);
            int to = match.Groups["to"].Success ? int.Parse(match.Groups["to"].Value, CultureInfo.InvariantCulture) : from;
            if (to < from || to - from > MostNumbers)
                return [];
            numbers.UnionWith(Enumerable.Range(from, to - from + 1));
        }
        return numbers;
    }

    private static Concept? ConceptIn(string text)
    {
        string[] words = [.. Identifier.Folded(text).Split([' ', '(', ')', ',', ';', ':', '.'], StringSplitOptions.RemoveEmptyEntries)
            .SelectMany(word => Endings.Where(end => word.EndsWith(end, StringComparison.Ordinal)).Select(end => word[..^end.Length]))];
        HeaderSense sense = HeaderWords.Read(string.Join(' ', words), null);
        foreach (Concept concept in Counted)
        {
            if (sense.Has(concept))
                return concept;
        }
        return null;
    }

    private static readonly Concept[] Counted = [Concept.Burial, Concept.Bag, Concept.Plot, Concept.Replicate];

    // of several: holes, Löcher, Gruben
    private static readonly string[] Endings = ["", "s", "er", "n"];

    [GeneratedRegex(@"\b(?<from>\d{1,4})(\s*(-|–|—|\.\.|bis|to|a|à|al|au|hasta|until)\s*(?<to>\d{1,4}))?\b",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Range();
}
