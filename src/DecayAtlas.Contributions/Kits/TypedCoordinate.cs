using System.Globalization;

namespace DecayAtlas.Contributions.Kits;

/// <summary>A coordinate that somebody typed with a letter or with signs of degrees: 33,45 S, S 33,45, 70.66° W, 29° 24,5' O. The side is
/// the letter's; O is east in German and west in Spanish and French, and is asked where the language does not tell.</summary>
internal static class TypedCoordinate
{
    /// <summary>Whether a cell of coordinates holds more than a number.</summary>
    public static bool Is(FieldSchema field, string text) => field.IsCoordinate && text.Any(c => char.IsLetter(c)
        || c is '°' or '\u00BA' or '\u02DA' or '\'' or '"' or '\u2032' or '\u2033' or '\u2019' or '\u201D');

    /// <param name="language">BCP 47 code of the sheet.</param>
    /// <returns>Degrees as a data package has them; nothing where it is no coordinate.</returns>
    public static (string? Text, Finding? Fault) Read(FieldSchema field, string text, string language)
    {
        if (Degrees.LooksLike(text) && Degrees.Read(field, text) is ({ Length: > 0 } plain, null))
            return (plain, null);
        if (PlaceText.Of(text) is not { } written)
            return (null, null);
        if (written.IsLatitude is { } isLatitude && isLatitude != (field.Name == "decimal_latitude"))
            return (null, Degrees.OfOtherAxis(field, text));
        double degrees = Math.Abs(written.Degrees);
        bool? isNegative = written.Letter switch
        {
            'S' or 'W' => true,
            // a minus before N contradicts itself
            'N' or 'E' => written.IsSigned ? null : false,
            'O' => (IsEast(language), written.IsSigned) switch { (false, _) => true, (true, false) => false, _ => null },
            _ => written.IsSigned,
        };
        return isNegative is { } below ? (Plain(below ? -degrees : degrees), null)
            : (null, field.Fault(FindingCode.KitUnsure, $"{FindingText.Quote(text)}, which may be {Plain(degrees)} or {Plain(-degrees)}",
                "a number that can be read in one way only", "type it with a minus for south and west, without one for north and east"));
    }

    private static bool? IsEast(string language) => language switch { "de" => true, "es" or "fr" => false, _ => null };

    private static string Plain(double degrees) => degrees.ToString("R", CultureInfo.InvariantCulture);
}
