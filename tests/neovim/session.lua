-- A short session in Neovim with its own language client. Writes what it saw as JSON to the file named in GEARQUILL_SEEN.
local seen = {}
local node, server, book = vim.env.GEARQUILL_NODE, vim.env.GEARQUILL_SERVER, vim.env.GEARQUILL_BOOK
local WAIT = 60000

local function finish()
  local out = io.open(vim.env.GEARQUILL_SEEN, 'w')
  out:write(vim.json.encode(seen))
  out:close()
  vim.cmd('qall!')
end

local function codes()
  local found = {}
  for _, one in ipairs(vim.diagnostic.get(0)) do
    found[#found + 1] = one.code or (one.user_data and one.user_data.lsp and one.user_data.lsp.code) or ''
  end
  return found
end

local function line_of(text)
  for number, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
    if line:find(text, 1, true) then return number - 1, line end
  end
  error('no line with ' .. text)
end

local function ask(client, method, params)
  local answer = client.request_sync(method, params, WAIT, vim.api.nvim_get_current_buf())
  if not answer or answer.err then error(method .. ': ' .. vim.inspect(answer and answer.err)) end
  return answer.result
end

local function place(client, line, character)
  return {
    textDocument = { uri = vim.uri_from_bufnr(0) },
    position = { line = line, character = character },
  }
end

local function run()
  vim.cmd('edit ' .. book .. '/jobs/J-1042.job.yaml')
  local attached = false
  local id = vim.lsp.start_client({
    name = 'gearquill',
    cmd = { node, server, '--stdio' },
    root_dir = book,
    workspace_folders = { { uri = vim.uri_from_fname(book), name = 'book' } },
    on_attach = function() attached = true end,
  })
  vim.lsp.buf_attach_client(0, id)
  seen.attached = vim.wait(WAIT, function() return attached end, 50)
  local client = vim.lsp.get_client_by_id(id)

  -- A mistyped part number is reported, and goes when it is mended by what completion offers.
  local line, text = line_of('- part: OH-B6')
  local column = text:find('OH%-B6') - 1
  vim.api.nvim_buf_set_text(0, line, column, line, #text, { 'OH-B' })
  seen.reported = vim.wait(WAIT, function() return vim.tbl_contains(codes(), 'unknown-reference') end, 50)

  local list = ask(client, 'textDocument/completion', place(client, line, column + 4))
  local chosen
  for _, item in ipairs(list.items or list) do
    if item.label == 'OH-B6' then chosen = item end
  end
  seen.offered = chosen ~= nil
  vim.lsp.util.apply_text_edits({ chosen.textEdit }, 0, client.offset_encoding)
  seen.completed = vim.api.nvim_buf_get_lines(0, line, line + 1, false)[1]
  seen.cleared = vim.wait(WAIT, function() return not vim.tbl_contains(codes(), 'unknown-reference') end, 50)

  -- The part gets another number everywhere in the book.
  local params = place(client, line, column + 1)
  params.newName = 'OH-B6-NEW'
  vim.lsp.util.apply_workspace_edit(ask(client, 'textDocument/rename', params), client.offset_encoding)
  seen.renamed = vim.api.nvim_buf_get_lines(0, line, line + 1, false)[1]
  seen.files = 0
  for _, buffer in ipairs(vim.api.nvim_list_bufs()) do
    local all = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, false), '\n')
    if all:find('OH-B6-NEW', 1, true) then seen.files = seen.files + 1 end
  end

  -- Formatting tidies and changes no value.
  vim.api.nvim_buf_set_lines(0, line + 1, line + 1, false, { '', '', '' })
  local before = #vim.api.nvim_buf_get_lines(0, 0, -1, false)
  local edits = ask(client, 'textDocument/formatting', {
    textDocument = { uri = vim.uri_from_bufnr(0) },
    options = { tabSize = 2, insertSpaces = true },
  })
  vim.lsp.util.apply_text_edits(edits or {}, 0, client.offset_encoding)
  seen.tidied = #vim.api.nvim_buf_get_lines(0, 0, -1, false) < before
  client.stop()
end

local ok, failure = pcall(run)
if not ok then seen.failure = tostring(failure) end
finish()
