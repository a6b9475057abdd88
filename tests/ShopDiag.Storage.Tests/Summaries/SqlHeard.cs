using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace ShopDiag.Storage.Tests.Summaries;

/// <summary>Hears every statement that the object mapper sends to one database file, as it is sent.</summary>
internal sealed class SqlHeard : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>, IDisposable
{
    private readonly string _folder;
    private readonly List<IDisposable> _subscriptions = [];
    private readonly List<string> _statements = [];

    public SqlHeard(string folder)
    {
        _folder = folder;
        _subscriptions.Add(DiagnosticListener.AllListeners.Subscribe(this));
    }

    public IReadOnlyList<string> Statements
    {
        get
        {
            lock (_statements)
            {
                return [.. _statements];
            }
        }
    }

    public void OnNext(DiagnosticListener value)
    {
        if (value.Name == DbLoggerCategory.Name)
        {
            _subscriptions.Add(value.Subscribe(this));
        }
    }

    public void OnNext(KeyValuePair<string, object?> value)
    {
        if (value.Value is CommandEventData { Command: SqliteCommand command } && value.Key == RelationalEventId.CommandExecuting.Name && command.Connection!.DataSource.StartsWith(_folder, StringComparison.Ordinal))
        {
            lock (_statements)
            {
                _statements.Add(command.CommandText);
            }
        }
    }

    public void OnCompleted()
    {
    }

    public void OnError(Exception error)
    {
    }

    public void Dispose() => _subscriptions.ForEach(s => s.Dispose());
}
