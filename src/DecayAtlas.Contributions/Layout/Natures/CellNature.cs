namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>What a cell may be, without knowing what it is about.</summary>
internal enum CellNature
{
    Empty,

    /// <summary>A sign for an unknown value, which says nothing of its column.</summary>
    Missing,
    Label,
    Number,
    Date,
}

internal static class CellNatures
{
    // Longer texts are sentences.
    private const int LongestValue = 60;

    public static CellNature Of(SheetCell cell) => cell.Kind switch
    {
        SheetCellKind.Empty => CellNature.Empty,
        SheetCellKind.Number => CellNature.Number,
        SheetCellKind.Date => CellNature.Date,
        SheetCellKind.Text => OfText(cell.Text),
        SheetCellKind.YesNo => CellNature.Label,
        _ => CellNature.Missing,
    };

    private static CellNature OfText(string text)
    {
        ReadOnlySpan<char> plain = text.AsSpan().Trim();
        if (plain.Length == 0)
            return CellNature.Empty;
        if (plain.Length > LongestValue)
            return CellNature.Label;
        if (LayoutWords.IsMissing(plain))
            return CellNature.Missing;
        if (!plain.ContainsAnyInRange('0', '9'))
            return CellNature.Label;
        return IsDate(plain) ? CellNature.Date : IsNumber(plain) ? CellNature.Number : CellNature.Label;
    }

    /// <summary>Days in digits with two like signs between them, or with the name of a month, and a time of day behind.</summary>
    private static bool IsDate(ReadOnlySpan<char> text)
    {
        if (text.IndexOfAny('T', ' ') is >= 6 and int behind && text[(behind + 1)..].Contains(':'))
            text = text[..behind];
        int groups = 0, letters = 0, longestLetters = 0, at = 0, longest = 0;
        char sign = '\0';
        bool isLike = true;
        while (at < text.Length)
        {
            if (char.IsAsciiDigit(text[at]))
            {
                int from = at;
                while (at < text.Length && char.IsAsciiDigit(text[at]))
                    at++;
                groups++;
                longest = Math.Max(longest, at - from);
            }
            else if (char.IsLetter(text[at]))
            {
                int from = at;
                while (at < text.Length && char.IsLetter(text[at]))
                    at++;
                if (LayoutWords.IsMonth(text[from..at]))
                    letters++;
                else if (at - from > 2)
                    return false;
                longestLetters = Math.Max(longestLetters, at - from);
            }
            else
            {
                char c = text[at++];
                if (c is '.' or '/' or '-')
                {
                    isLike &= sign == '\0' || sign == c;
                    sign = c;
                }
                else if (c is not (' ' or ',' or '\u00A0'))
                {
                    return false;
                }
            }
        }
        return letters == 1 ? groups is 1 or 2 && longest <= 4 : longestLetters == 0 && groups == 3 && sign != '\0' && isLike
            && longest <= 4;
    }

    /// <summary>A number with its unit, or a coordinate.</summary>
    private static bool IsNumber(ReadOnlySpan<char> text)
    {
        text = text.TrimStart("+-−~≈<>± ");
        int at = 0;
        while (at < text.Length && (char.IsAsciiDigit(text[at]) || text[at] is '.' or ',' or '\'' or '’' or ' ' or '\u00A0' or '\u202F'))
            at++;
        if (at > 0 && char.IsAsciiDigit(text[0]))
        {
            ReadOnlySpan<char> rest = text[at..].Trim();
            if (rest.IsEmpty || LayoutWords.IsUnit(rest) || rest[0] is '±')
                return true;
            if (rest[0] is 'e' or 'E' && rest.Length > 1 && rest[1..].TrimStart("+-").IndexOfAnyExceptInRange('0', '9') < 0)
                return true;
        }
        return IsCoordinate(text);
    }

    // Signs of degrees, or a half of the world beside digits: 47°18'36"N, N 47 18.6, 51,2 Ost.
    private static bool IsCoordinate(ReadOnlySpan<char> text)
    {
        bool hasSign = text.IndexOfAny("°º'′") >= 0;
        int letters = 0, digits = 0, word = 0;
        foreach (char c in text)
        {
            if (char.IsAsciiDigit(c))
            {
                digits++;
                word = 0;
            }
            else if (char.IsLetter(c) && c != 'º')
            {
                word++;
                letters++;
                if (!hasSign && char.ToLowerInvariant(c) is not ('n' or 's' or 'e' or 'w' or 'o'))
                    return false;
            }
            else if (c is not ('°' or 'º' or '\'' or '"' or '′' or '″' or '’' or '”' or ' ' or '.' or ',' or '-' or '−' or '+' or ';' or '/'
                or '\u00A0'))
            {
                return false;
            }
        }
        return digits >= 2 && letters <= 16 && word <= 6 && (hasSign || letters is 1 or 2);
    }
}
