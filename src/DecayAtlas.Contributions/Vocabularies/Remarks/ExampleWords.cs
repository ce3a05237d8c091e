namespace DecayAtlas.Contributions.Vocabularies.Remarks;

internal enum ExampleMark
{
    None, Maybe, Plain,
}

/// <summary>Words of four languages by which a row is marked as an example, or as a trial.</summary>
internal static class ExampleWords
{
    private static readonly string[] Short = ["e.g.", "eg.", "z.b.", "z. b.", "p. ej.", "p.ej.", "p. ex.", "p.ex.", "por ejemplo",
        "par exemple", "zum beispiel", "for example"];

    private static readonly HashSet<string> Examples =
        ["beispiel", "beispielzeile", "bsp", "example", "exemple", "ejemplo", "muster", "musterzeile"];

    private static readonly HashSet<string> Trials =
        ["test", "testzeile", "probe", "probezeile", "sample", "dummy", "demo", "trial", "prueba", "muestra", "essai", "practice"];

    // to be taken out, or a row and no bag
    private static readonly HashSet<string> Away =
    [
        "delete", "remove", "row", "line", "ignore", "loschen", "entfernen", "zeile", "ignorieren", "effacer", "supprimer", "ligne",
        "ignorer", "borrar", "eliminar", "quitar", "fila", "linea", "ignorar",
    ];

    /// <summary>How plainly a cell says that its row is none of what was measured.</summary>
    public static ExampleMark Mark(string text)
    {
        if (text.Length is 0 or > 60)
            return ExampleMark.None;
        string folded = Identifier.Folded(text.Trim());
        string[] words = folded.Split([' ', '(', ')', '[', ']', ',', ';', ':', '.', '/', '!', '*', '-', '_', '"'],
            StringSplitOptions.RemoveEmptyEntries);
        if (words.Length == 0)
            return ExampleMark.None;
        bool isShort = Array.Exists(Short, word => folded.TrimStart('(', '[').StartsWith(word, StringComparison.Ordinal)),
            hasExample = Array.Exists(words, Examples.Contains), isAway = Array.Exists(words, Away.Contains);
        // e.g. 1 is an example, and a remark that goes on gives one
        if (isShort)
            return words.Length <= 4 ? ExampleMark.Plain : ExampleMark.None;
        if (Array.Exists(Short, word => word.Contains(' ', StringComparison.Ordinal) && folded.Contains(word, StringComparison.Ordinal)))
            return ExampleMark.None;
        if (hasExample)
        {
            return isAway || words.Length <= 2 || folded.Contains('(', StringComparison.Ordinal) && Examples.Contains(words[^1])
                ? ExampleMark.Plain : ExampleMark.Maybe;
        }
        // a word alone, or with a number or with what is to be done
        if (!Array.Exists(words, Trials.Contains))
            return ExampleMark.None;
        return isAway ? ExampleMark.Plain
            : Array.TrueForAll(words, word => Trials.Contains(word) || int.TryParse(word, out _)) ? ExampleMark.Maybe : ExampleMark.None;
    }
}
