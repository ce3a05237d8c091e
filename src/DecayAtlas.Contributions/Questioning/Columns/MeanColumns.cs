using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>The columns of a mean and of how far its values scatter.</summary>
/// <param name="Spread">Its standard deviation or standard error; null where there is none.</param>
internal sealed record MeanColumn(AskedColumn Mean, AskedColumn? Spread);

/// <summary>Finds the columns of a table whose rows are means of so many burials: of the share that was left or lost, or of the masses
/// before and after; of both litters in a row, or of one.</summary>
internal static partial class MeanColumns
{
    private static readonly LitterRole?[] Both = [LitterRole.Fast, LitterRole.Slow];

    public static bool Are(AskedTable table) => AreOfShares(table) || AreOfMasses(table);

    public static bool AreOfShares(AskedTable table) => AreOfSeveral(table) && RolesOfShares(table).Length > 0;

    /// <summary>Null for a row of one litter; empty where there are no means of shares with their scatter.</summary>
    public static LitterRole?[] RolesOfShares(AskedTable table) => new[] { Both, [null] }.FirstOrDefault(roles =>
        Array.TrueForAll(roles, role => ShareOf(table, role) is { Spread: not null })) ?? [];

    public static bool AreOfMasses(AskedTable table) => AreOfSeveral(table) && RolesOfMasses(table).Length > 0;

    // how many is said of each row, or there are cells with ±, and it is said of all or asked
    private static bool AreOfSeveral(AskedTable table) => CountOf(table) is not null
        || Array.TrueForAll(Both, role => CountOf(table, role) is not null)
        || (!table.AreOfOneBag && table.Columns.Any(column => column.Header.Part == CellPart.Spread));

    /// <summary>Null for a row of one litter; empty where there are no means of masses.</summary>
    public static LitterRole?[] RolesOfMasses(AskedTable table) => new[] { [null], Both }.FirstOrDefault(roles =>
        Array.TrueForAll(roles, role => MassOf(table, role, Concept.First) is { } first && MassOf(table, role, Concept.Last) is { } last
            && ((first.Spread ?? last.Spread) is not null
                || (first.Mean.Sense.Has(Concept.Mean) && last.Mean.Sense.Has(Concept.Mean))))) ?? [];

    /// <summary>How many burials are behind a mean, of both litters or of one.</summary>
    public static AskedColumn? CountOf(AskedTable table, LitterRole? role = null) => table.Columns.FirstOrDefault(column => column.IsNumbers
        && column.Sense.Has(Concept.Count) && table.RoleOf(column) == role
        && column.Distinct.All(text => StateWords.IsNothing(text) || (int.TryParse(text, NumberStyles.None,
            CultureInfo.InvariantCulture, out int count) && count is > 0 and < 1000))
        && column.Distinct.Any(text => text != "1"));

    public static MeanColumn? ShareOf(AskedTable table, LitterRole? role)
    {
        AskedColumn[] means = [.. table.Columns.Where(column => column.IsNumbers && table.RoleOf(column) == role && !IsSpread(column)
            && (column.Sense.HasAny(Concept.Remaining, Concept.Loss) || ShareColumns.Of(table, role) == column)
            && column.Sense.Unit is null or "percent" or "fraction")];
        return means is [AskedColumn mean] ? new MeanColumn(mean, SpreadOf(table, mean, role, null)) : null;
    }

    public static MeanColumn? MassOf(AskedTable table, LitterRole? role, Concept weighing)
    {
        Concept other = weighing == Concept.First ? Concept.Last : Concept.First;
        AskedColumn[] means = [.. table.Columns.Where(column => column.IsNumbers && table.RoleOf(column) == role && !IsSpread(column)
            && column.Sense.Has(weighing) && !column.Sense.HasAny(other, Concept.Loss, Concept.Days, Concept.Moisture, Concept.Ash)
            && (Units.InGrams(column.Sense.Unit) is not null
                || (column.Sense.Unit is null && column.Sense.HasAny(Concept.Mass, Concept.Mean))))];
        return means is [AskedColumn mean] ? new MeanColumn(mean, SpreadOf(table, mean, role, weighing)) : null;
    }

    private static bool IsSpread(AskedColumn column) => column.Sense.HasAny(Concept.Sd, Concept.Spread);

    // what says the same litter and weighing, or stands right behind its mean and says neither
    private static AskedColumn? SpreadOf(AskedTable table, AskedColumn mean, LitterRole? role, Concept? weighing)
    {
        AskedColumn[] all = [.. table.Columns.Where(column => column.IsNumbers && IsSpread(column))];
        if (mean.Header.Part == CellPart.Mean)
            return all.FirstOrDefault(column => column.Ordinal == mean.Ordinal + 1);
        AskedColumn[] named = [.. all.Where(column => table.RoleOf(column) == role && (weighing is not { } when
            ? role is not null : column.Sense.Has(when)))];
        AskedColumn[] behind = [.. all.Where(column => column.Ordinal == mean.Ordinal + 1
            && (table.RoleOf(column) is null || table.RoleOf(column) == role))];
        return named is [AskedColumn own] ? own : behind is [AskedColumn next] ? next : null;
    }

    /// <summary>How many burials are behind the means, where names of columns and lines say it, as n = 5.</summary>
    public static (string Text, int Count)[] SaidIn(AskedTable table) =>
        [.. table.Columns.Where(column => column.Header.Part is not (CellPart.Spread or CellPart.Count))
            .Select(column => column.Name).Concat(table.Lines.Select(line => line.Value.Text))
            .SelectMany(text => Said().Matches(text).Select(match =>
                (text, int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture))))];

    [GeneratedRegex(@"\b[nN]\s?=\s?(\d{1,3})\b", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Said();
}
