using System.Reflection;

namespace DecayAtlas.Cli;

/// <summary>What <c>--version</c> prints: the version, and the commit where it was built from one, such as 0.1.0+2664bfe.</summary>
internal static class ProgramVersion
{
    /// <summary>As many digits as git shows of a commit.</summary>
    private const int CommitDigits = 7;

    public static string Own { get; } =
        Of(typeof(ProgramVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion);

    /// <param name="informational">As the build writes it: the version, then + and the whole commit where there is a repository.</param>
    public static string Of(string informational) =>
        informational.Split('+', 2) is [string version, { Length: > CommitDigits } commit] ? $"{version}+{commit[..CommitDigits]}"
        : informational;
}
