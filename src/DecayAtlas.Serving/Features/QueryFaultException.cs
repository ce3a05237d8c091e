namespace DecayAtlas.Serving.Features;

/// <summary>A request whose parameters can't be taken; its message is one sentence that the reader gets with status 400.</summary>
internal sealed class QueryFaultException(string message) : Exception(message)
{
    /// <summary>What a parameter is, and what was expected.</summary>
    public QueryFaultException(string name, string value, string expected)
        : this($"{name} is {Quoted(value)}; expected {expected}.")
    {
    }

    /// <summary>What somebody sent, as it may stand in an answer: short, and without control characters.</summary>
    public static string Quoted(string text)
    {
        string plain = string.Concat(text.Take(60).Select(c => char.IsControl(c) || char.IsSurrogate(c) ? '?' : c));
        return $"\"{plain}{(text.Length > 60 ? "..." : "")}\"";
    }
}
