namespace DecayAtlas.Cli.Commands;

/// <summary>Reads classes that are chosen on the command line, as management=organic.</summary>
internal static class ChosenClasses
{
    /// <param name="option">Its name, for messages.</param>
    /// <exception cref="ConfigurationException">A text is no name and class, or a name stands twice.</exception>
    public static IReadOnlyDictionary<string, string> Of(string option, string[] texts)
    {
        Dictionary<string, string> chosen = new(StringComparer.Ordinal);
        foreach (string text in texts)
        {
            (string name, string value) = text.IndexOf('=', StringComparison.Ordinal) is var at and > 0
                ? (text[..at].Trim(), text[(at + 1)..].Trim()) : ("", "");
            if (name.Length == 0 || value.Length == 0)
                throw new ConfigurationException($"{option} {text} names no covariate and class; expected for example management=organic.");
            if (!chosen.TryAdd(name, value))
                throw new ConfigurationException($"{option} names {name} twice; choose one class.");
        }

        return chosen;
    }

    /// <summary>The choices of a configuration with those of the command line before them.</summary>
    /// <exception cref="ConfigurationException">One is of no class of the model.</exception>
    public static ClassChoices Over(this ClassChoices configured, IReadOnlyDictionary<string, string> chosen, RateModel model)
    {
        try
        {
            new ClassChoices(chosen, ClassChoices.None.FromGrid).Check(model.Card);
            return configured.With(chosen);
        }
        catch (PredictionException e) when (e.IsOfRequest)
        {
            throw new ConfigurationException(e.Message, e);
        }
    }
}
