namespace DecayAtlas.Text;

/// <summary>The configuration, or a file it names, is not usable; the message is one sentence meant for the curator.</summary>
public sealed class ConfigurationException : Exception
{
    public ConfigurationException(string message) : base(message) { }

    public ConfigurationException(string message, Exception inner) : base(message, inner) { }
}
