using System.Buffers;
using System.Globalization;

namespace DecayAtlas.Contributions.Tables;

/// <summary>Turns the text of one cell into its value, or says what is wrong with it. All rules come from the column's schema.</summary>
internal static class CellCheck
{
    private const NumberStyles NumberForm = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;

    /// <returns>Null when the value is good, otherwise a finding without file and row.</returns>
    public static Finding? Read(FieldSchema field, ReadOnlySpan<char> text, ref Cell cell)
    {
        cell.HasValue = true;
        if (text.Length > field.Longest)
            return TooLong(field.Name, text.Length, field.Longest);
        return field.Type switch
        {
            FieldType.Number or FieldType.WholeNumber => ReadNumber(field, text, ref cell),
            FieldType.Date => ReadDate(field, text, ref cell),
            FieldType.YesNo => ReadYesNo(field, text, ref cell),
            _ => CheckText(field, text),
        };
    }

    /// <summary>The finding for a text that is longer than it may be, which is all that is said of it.</summary>
    public static Finding TooLong(string? column, long length, int longest) => new(FindingCode.TooLong, "", null, column,
        Invariant($"{length} characters"), Invariant($"at most {longest} characters"), "shorten the text");

    /// <summary>The finding for a name of a column that is longer than any cell may be.</summary>
    /// <param name="column">0-based.</param>
    public static Finding NameTooLong(int column, int length) => TooLong(null, length, FieldSchema.LongestOfAll) with
    {
        Found = Invariant($"{length} characters as the name of column {column + 1}"),
        Mend = "shorten the name of the column",
    };

    public static Finding Missing(FieldSchema field) =>
        field.Fault(FindingCode.ValueMissing, "an empty cell", $"{Expected(field)}, as the column is required", "fill it in");

    private static Finding? ReadNumber(FieldSchema field, ReadOnlySpan<char> text, ref Cell cell)
    {
        if (!double.TryParse(text, NumberForm, CultureInfo.InvariantCulture, out double number) || !double.IsFinite(number))
        {
            return IsDecimalComma(text)
                ? field.Fault(FindingCode.DecimalComma, text.ToString(), "a number with a decimal point",
                    $"write {text.ToString().Replace(',', '.')}, or save the file again with a decimal point")
                : field.Fault(FindingCode.NotANumber, FindingText.Quote(text), Expected(field),
                    text.Trim().Length < text.Length ? "take out the spaces"
                    : field.IsCoordinate && !HasSignsTooMany(text) ? SideOf(text)
                    : HasSignsTooMany(text) ? "write the number with one decimal sign at most, and no sign or blank between thousands"
                    : "write only the number, without unit or remark; leave the cell empty when it is not known");
        }
        cell.Number = number;
        if (field.Type == FieldType.WholeNumber && number != Math.Floor(number))
            return field.Fault(FindingCode.NotANumber, text.ToString(), Expected(field), "write a whole number");
        return number < field.Minimum || number > field.Maximum
            ? field.Fault(FindingCode.OutOfRange, text.ToString(),
                Expected(field), field.Unit is null or "1" ? "correct the number" : $"correct the number; its unit is {field.Unit}")
            : null;
    }

    // to drop the letter of 33.45 S would move the place to the other side of the Earth
    private static string SideOf(ReadOnlySpan<char> text) => PlaceText.Of(text.ToString()) is { Letter: { } letter } written
        && (letter is 'S' or 'W' || (letter is 'N' or 'E' && !written.IsSigned))
            ? Invariant($"write {(letter is 'S' or 'W' ? -1 : 1) * Math.Abs(written.Degrees):0.########}: south and west have a minus")
            : "write degrees as one number, south and west with a minus, as -33.45";

    // 37.389.092 or 3 010: nothing but a number, and its signs are the fault
    private static bool HasSignsTooMany(ReadOnlySpan<char> text) => text.ContainsAnyInRange('0', '9')
        && !text.Trim().TrimStart("+-").ContainsAnyExcept(OfNumbers);

    private static readonly SearchValues<char> OfNumbers = SearchValues.Create("0123456789.,' \u00A0\u202F’");

    private static bool IsDecimalComma(ReadOnlySpan<char> text)
    {
        int comma = text.IndexOf(',');
        return comma >= 0 && text.Count(',') == 1 && !text.Contains('.')
            && double.TryParse(string.Concat(text[..comma], ".", text[(comma + 1)..]), NumberForm, CultureInfo.InvariantCulture, out _);
    }

    private static Finding? ReadDate(FieldSchema field, ReadOnlySpan<char> text, ref Cell cell)
    {
        if (text.Length != 10 || text[4] != '-' || text[7] != '-'
            || !TryDigits(text[..4], out int year) || !TryDigits(text[5..7], out int month) || !TryDigits(text[8..], out int day))
        {
            return field.Fault(FindingCode.NotADate, FindingText.Quote(text),
                "a date written YYYY-MM-DD", "write year, month and day in this order, for example " + field.Example);
        }

        if (year < 1 || month is < 1 or > 12)
            return Impossible(field, text, year < 1 ? "there is no year 0" : $"there is no month {text[5..7]}");
        int days = DateTime.DaysInMonth(year, month);
        if (day < 1 || day > days)
            return Impossible(field, text, Invariant($"month {month} of {year} has {days} days"));

        cell.Date = new DateOnly(year, month, day);
        return cell.Date < field.EarliestDate
            ? field.Fault(FindingCode.OutOfRange, text.ToString(), Expected(field), "correct the year")
            : null;
    }

    private static Finding Impossible(FieldSchema field, ReadOnlySpan<char> text, string why) =>
        field.Fault(FindingCode.DateImpossible, text.ToString(), "a day that exists", "correct the date; " + why);

    private static bool TryDigits(ReadOnlySpan<char> text, out int value) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value);

    private static Finding? ReadYesNo(FieldSchema field, ReadOnlySpan<char> text, ref Cell cell)
    {
        bool isYes = text.SequenceEqual("yes");
        cell.Number = isYes ? 1 : 0;
        return isYes || text.SequenceEqual("no") ? null : field.Fault(FindingCode.NotYesOrNo, FindingText.Quote(text), "yes or no",
            "write yes or no in small letters, or leave the cell empty");
    }

    private static Finding? CheckText(FieldSchema field, ReadOnlySpan<char> text)
    {
        if (field.AllowedValues.Count > 0 && !IsAllowed(field, text))
        {
            return field.Fault(FindingCode.NotAllowed, FindingText.Quote(text), Expected(field),
                Nearest.Of(text, field.AllowedValues) is { } near ? $"write {near}, if that was meant" : "choose one of these values");
        }
        if (ReceivedText.HasEmail(text))
        {
            return field.Fault(FindingCode.ContactInTable, "an e-mail address", "no contact data in a table, as tables are published",
                "take it out; whom to ask is stated under contributors in " + SchemaCatalogue.DescriptorName);
        }
        return field.Pattern is { } pattern && !pattern.IsMatch(text)
            ? field.Fault(FindingCode.PatternMismatch, FindingText.Quote(text), Expected(field),
                text.Trim().Length < text.Length ? "take out the spaces at its ends"
                : "use only the characters that the pattern allows, for example " + field.Example)
            : null;
    }

    private static bool IsAllowed(FieldSchema field, ReadOnlySpan<char> text)
    {
        foreach (string allowed in field.AllowedValues)
        {
            if (text.SequenceEqual(allowed))
                return true;
        }
        return false;
    }

    /// <summary>What a column wants, in a few words: "a number from 0 to 1 in g".</summary>
    public static string Expected(FieldSchema field)
    {
        string unit = field.Unit is null or "1" ? "" : " in " + field.Unit;
        return field.Type switch
        {
            FieldType.Number => "a number" + Range(field) + unit,
            FieldType.WholeNumber => "a whole number" + Range(field) + unit,
            FieldType.Date when field.EarliestDate is { } day => Invariant($"a date written YYYY-MM-DD, not before {day:yyyy-MM-dd}"),
            FieldType.Date => "a date written YYYY-MM-DD",
            FieldType.YesNo => "yes or no",
            _ when field.AllowedValues.Count > 0 => "one of " + string.Join(", ", field.AllowedValues),
            _ when field.PatternText is not null => $"a text that matches the pattern {field.PatternText}",
            _ => "a text",
        };
    }

    private static string Range(FieldSchema field) => (field.Minimum, field.Maximum) switch
    {
        ({ } low, { } high) => Invariant($" from {low} to {high}"),
        ({ } low, null) => Invariant($" not below {low}"),
        (null, { } high) => Invariant($" not above {high}"),
        _ => "",
    };
}
