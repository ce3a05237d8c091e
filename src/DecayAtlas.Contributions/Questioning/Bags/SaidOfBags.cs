using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>What people wrote beside bags: a column of remarks, or the notes that hang on the cells of a column.</summary>
internal sealed record SaidOfBags(AskedColumn Column, bool IsOfCells)
{
    public IEnumerable<string> Texts => IsOfCells
        ? Column.Cells.Select(cell => cell.Look?.Comment?.Trim()).OfType<string>().Distinct() : Column.Distinct;

    public string TextAt(int row) => IsOfCells ? Column.Cells[row].Look?.Comment?.Trim() ?? "" : Column.TextAt(row);

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
        source["words"] = MappingDraft.Words(words);
        return source;
    }
}
