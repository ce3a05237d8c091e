using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>A row of two bags whose names of columns differ by a letter, a number or a colour alone: bag A before, bag A after, bag B
/// before, bag B after. A legend says which is which; of a campaign A is the fast litter and B the slow one, as in its kits; all else is
/// asked.</summary>
internal static partial class LetteredBags
{
    // each is held against each: more than people make
    private const int MostColumns = 120;

    /// <param name="meant">What each column is most likely.</param>
    public static void Find(AskedTable table, IReadOnlyList<(AskedColumn Column, string Field)> meant)
    {
        (AskedColumn Column, string Field)[] masses = [.. meant.Where(claim => !claim.Column.IsHidden && claim.Column.Filled > 0
            && claim.Field is ColumnChoice.Initial or ColumnChoice.Final or ColumnChoice.Loss or ColumnChoice.Remaining)];
        if (table.Columns.Count > MostColumns || masses.Any(claim => claim.Column.Sense.Role is not null))
            return;
        List<(string One, string Other, string Field, AskedColumn[] Columns)> pairs =
        [
            .. from one in masses
               from other in masses
               where one.Field == other.Field && one.Column.Ordinal < other.Column.Ordinal
               let marks = Difference(one.Column.Name, other.Column.Name)
               where marks is not null
               select (marks.Value.One, marks.Value.Other, one.Field, new[] { one.Column, other.Column }),
        ];
        // both bags before, and both after
        if (pairs.GroupBy(pair => (pair.One, pair.Other)).FirstOrDefault(own => own.Any(pair => pair.Field == ColumnChoice.Initial)
            && own.Any(pair => pair.Field != ColumnChoice.Initial)) is not { } found)
        {
            return;
        }
        (string first, string second) = found.Key;
        string? fast = FastByLegend(table, first, second) is { } said ? said
            : (first, second) is ("a", "b") && table.Campaign is not null ? first : table.Ask.Choose(Interview.Columns, "letters",
            [new Choice(first, Shown(first, table)), new Choice(second, Shown(second, table)), table.Ask.Option("-", "letters-neither")],
            null,
            [.. found.SelectMany(pair => pair.Columns).Distinct().SelectMany(column => column.Seen().Take(2))],
            Shown(first, table), Shown(second, table));
        if (fast == "-")
            return;
        // while it is not answered, what follows is asked as of two bags
        fast ??= first;
        string slow = fast == first ? second : first;
        (table.RoleOfLetter[fast], table.RoleOfLetter[slow]) = (LitterRole.Fast, LitterRole.Slow);
        foreach (AskedColumn column in table.Columns)
        {
            bool isPaired = table.Columns.Any(other => other != column && (Difference(column.Name, other.Name)
                ?? Difference(other.Name, column.Name)) is { } marks
                && (marks == (first, second) || marks == (second, first)));
            string[] own = [.. Words(column.Name).Where(word => Marks(word, first) || Marks(word, second))];
            if (own.Length == 1 && (isPaired || char.IsUpper(own[0][0]) || fast.Length > 2))
                table.RoleByLetter[column.Ordinal] = Marks(own[0], fast) ? LitterRole.Fast : LitterRole.Slow;
        }
        if (!table.Ask.IsOpen("letters"))
        {
            table.Ask.Tell("letters", found.SelectMany(pair => pair.Columns).Distinct().Count(),
                [.. found.SelectMany(pair => pair.Columns).Distinct().SelectMany(column => column.Seen().Take(1))],
                Shown(fast, table), Shown(slow, table));
        }
    }

    private static string? FastByLegend(AskedTable table, string first, string second) =>
        (table.RoleByLegend(first), table.RoleByLegend(second)) switch
        {
            (LitterRole.Fast, not LitterRole.Fast) or (null, LitterRole.Slow) => first,
            (LitterRole.Slow, not LitterRole.Slow) or (null, LitterRole.Fast) => second,
            _ => null,
        };

    // a colour as the columns write it
    private static string Shown(string mark, AskedTable table) => mark.Length <= 2 ? mark.ToUpperInvariant()
        : table.Columns.SelectMany(column => Words(column.Name)).First(word => Marks(word, mark));

    private static bool Marks(string word, string mark) => Identifier.Folded(word) == mark;

    // the only word by which two names differ, where it is one that tells bags apart
    private static (string One, string Other)? Difference(string one, string other)
    {
        string[] ones = Words(one), others = Words(other);
        if (ones.Length != others.Length)
            return null;
        int[] different = [.. Enumerable.Range(0, ones.Length).Where(i => Identifier.Folded(ones[i]) != Identifier.Folded(others[i]))];
        return different is [int at] && (Identifier.Folded(ones[at]), Identifier.Folded(others[at])) is var marks
            && ((IsMark(marks.Item1) && IsMark(marks.Item2) && char.IsLetter(marks.Item1[0]) == char.IsLetter(marks.Item2[0]))
                || (ColourName.IsWord(marks.Item1) && ColourName.IsWord(marks.Item2))) ? marks : null;
    }

    // g and m are units
    private static bool IsMark(string word) => word is "1" or "2" or "i" or "ii"
        || (word.Length == 1 && char.IsLetter(word[0]) && word is not ("g" or "m"));

    private static string[] Words(string name) => [.. Word().Matches(name).Select(match => match.Value)];

    [GeneratedRegex(@"\p{L}+\d*|\d+|%", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Word();
}
