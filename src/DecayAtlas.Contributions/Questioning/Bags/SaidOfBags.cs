using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>What people wrote beside bags: a column of remarks, the notes that hang on the cells of a column, or what stands beside the
/// numbers in it.</summary>
internal sealed record SaidOfBags(AskedColumn Column, bool IsOfCells)
{
    /// <summary>What cells of masses say beside their numbers, by their texts; null where it is a column of its own.</summary>
    public IReadOnlyDictionary<string, string>? Beside { get; init; }

    public IEnumerable<string> Texts => Beside is not null ? Beside.Values.Distinct()
        : IsOfCells
        ? Column.Cells.Select(cell => cell.Look?.Comment?.Trim()).OfType<string>().Distinct() : Column.Distinct;

    public string TextAt(int row) => Beside is not null ? Beside.GetValueOrDefault(Column.TextAt(row), "")
        : IsOfCells ? Column.Cells[row].Look?.Comment?.Trim() ?? "" : Column.TextAt(row);

    public JsonObject Source()
    {
        JsonObject source = MappingDraft.Column(Column);
        if (IsOfCells)
            source["form"] = "comment";
        return source;
    }

    /// <summary>Of its texts these alone, each with its meaning.</summary>
    public JsonObject Source(IEnumerable<(string Text, string Meaning)> words)
    {
        JsonObject source = MappingDraft.Column(Column);
        source["form"] = IsOfCells ? "comment" : "listed";
        source["words"] = MappingDraft.Words(Beside is null ? words
            : words.SelectMany(word => Beside.Where(cell => cell.Value == word.Text).Select(cell => (cell.Key, word.Meaning))));
        return source;
    }
}
